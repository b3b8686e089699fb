package io.evenwarm.agent.rehearsal;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Sound cabinets that room and fan hold at the set point or above, without any heat. */
final class NeverHeatedTest {

    private static final double SECONDS = 60 * 3600;

    @ParameterizedTest
    @ValueSource(longs = {92, 30_022, 30_039, 30_067})
    void airThatComesBackAfterALookIsNoHeaterAndAProbeThatRestsIsNotFrozen(long seed) {
        Verdict verdict =
                Rehearsal.run(
                        new Scenario(
                                seed,
                                SECONDS,
                                Catalogue.cabinet(seed),
                                List.of(),
                                Catalogue.openings(seed, SECONDS)));
        assertEquals(
                List.of(),
                verdict.findings().stream()
                        .filter(found -> found.bearing() == Verdict.Bearing.UNEXPLAINED)
                        .map(Verdict.FoundFinding::shortWords)
                        .toList());
    }
}
