package io.evenwarm.agent.rehearsal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Runs of the catalogue in which one trouble once passed for another. */
final class TellingTroublesApartTest {

    private static List<String> wrong(CatalogueRun run) {
        return run.verdict().findings().stream()
                .filter(found -> found.bearing() == Verdict.Bearing.UNEXPLAINED)
                .map(Verdict.FoundFinding::shortWords)
                .toList();
    }

    @ParameterizedTest
    @ValueSource(longs = {14, 47, 50, 54})
    void aProbeThatPlungesIntoAColdRoomFellOutAndIsNotNoisy(long seed) {
        CatalogueRun run = Catalogue.run(FaultKind.PROBE_FELL_OUT, seed, () -> false);
        assertEquals(List.of(), wrong(run));
        double found = run.foundAfterSeconds().orElse(Double.POSITIVE_INFINITY);
        assertTrue(found < 120, found + " s");
    }

    @ParameterizedTest
    @ValueSource(longs = {9, 13})
    void afterARestartWithAShorterWindowAProbeThatChangesLessOftenIsNotFrozen(long seed) {
        assertEquals(List.of(), wrong(Catalogue.run(FaultKind.RELAY_CHATTER, seed, () -> false)));
    }

    @ParameterizedTest
    @ValueSource(longs = {4, 7, 8, 30, 35, 39, 47})
    void inARoomThatIsSuddenlyColderTheHeaterIsNotDeadNorTheFanStopped(long seed) {
        assertEquals(List.of(), wrong(Catalogue.run(FaultKind.AMBIENT_STEP, seed, () -> false)));
    }
}
