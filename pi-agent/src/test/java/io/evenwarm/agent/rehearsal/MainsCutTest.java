package io.evenwarm.agent.rehearsal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.FindingCode;
import java.util.List;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Power cuts that the agent lives through on a battery, in cabinets without a tachometer. */
final class MainsCutTest {

    private static final double AT_SECONDS = 100_000;

    private static Verdict run(long seed, Mishap what, double forSeconds) {
        Scenario.Cabinet cabinet = Catalogue.cabinet(seed);
        assertFalse(cabinet.hasFanTachometer());
        return Rehearsal.run(
                new Scenario(
                        seed,
                        AT_SECONDS + 12 * 3600,
                        cabinet,
                        List.of(
                                new Scenario.TimedFault(
                                        AT_SECONDS, OptionalDouble.of(forSeconds), what)),
                        List.of()));
    }

    private static boolean has(Verdict verdict, FindingCode code) {
        return verdict.firstRaised(code).isPresent();
    }

    @ParameterizedTest
    @ValueSource(longs = {51, 78, 80, 127})
    void aCutOfMinutesIsToldOnceItIsOverAndLeavesTheHeaterWithAGoodName(long seed) {
        double cutSeconds = 480;
        Verdict verdict = run(seed, new Mishap.MainsCut(true), cutSeconds);
        OptionalDouble told = verdict.firstRaised(FindingCode.MAINS_RETURNED);
        assertTrue(told.isPresent());
        assertTrue(told.getAsDouble() > AT_SECONDS + cutSeconds, "told at " + told);
        assertTrue(told.getAsDouble() < AT_SECONDS + cutSeconds + 3600, "told at " + told);
        assertFalse(has(verdict, FindingCode.HEATER_STUCK_ON));
        assertFalse(has(verdict, FindingCode.HEATER_WEAK));
    }

    @Test
    void heatIsNotHeldBackOnceTheMainsAreBackAfterHours() {
        double cutSeconds = 3.4 * 3600;
        Verdict verdict = run(121, new Mishap.MainsCut(true), cutSeconds);
        assertTrue(has(verdict, FindingCode.MAINS_RETURNED));
        double coldAtEndOfCut = 18;
        assertTrue(verdict.lowestEggCelsius() > coldAtEndOfCut, verdict.lowestEggCelsius() + " °C");
    }

    @Test
    void aHeaterThatFailsAloneForHalfAnHourIsDeadAndNoMainsCut() {
        Verdict verdict = run(127, FaultKind.HEATER_OPEN.make(FaultKeys.NONE), 1800);
        assertTrue(has(verdict, FindingCode.HEATER_DEAD));
        assertFalse(has(verdict, FindingCode.MAINS_RETURNED));
        assertEquals(0, verdict.secondsAboveCeiling());
    }
}
