package io.evenwarm.agent.rehearsal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Runs of the catalogue in which a fan or a probe showed so little that it was found late. */
final class FaintFaultsTest {

    private static final double MINUTE = 60;

    private static void assertFoundWithin(FaultKind kind, long seed, double minutes) {
        CatalogueRun run = Catalogue.run(kind, seed, () -> false);
        double found = run.foundAfterSeconds().orElse(Double.POSITIVE_INFINITY) / MINUTE;
        assertTrue(found <= minutes, found + " min");
        List<String> others = run.others().stream().map(Verdict.FoundFinding::shortWords).toList();
        assertEquals(List.of(), others);
    }

    @ParameterizedTest(name = "seed {0}: {2}")
    @CsvSource({
        "28, 720, a heat that was hardly seen before",
        "30, 720, a line that was still young in a day of much weather",
        "70, 720, a twentieth of a kelvin",
        "91, 720, a room that leaves it no heat for hours",
    })
    void aSlowFanWhereLittleHeatIsNeeded(long seed, double minutes, String what) {
        assertFoundWithin(FaultKind.FAN_SLOW, seed, minutes);
    }

    @ParameterizedTest(name = "seed {0}: {2}")
    @CsvSource({
        "77, 20, a minute before a look that a switch at the door tells",
        "25, 20, minutes after a look",
        "61, 20, minutes after a look that the air tells",
    })
    void aFanThatStopsAroundALook(long seed, double minutes, String what) {
        assertFoundWithin(FaultKind.FAN_STOPPED, seed, minutes);
    }

    @ParameterizedTest(name = "seed {0}: {2}")
    @CsvSource({
        "39, 240, neighbours that move by less than a thermometer's step",
        "83, 60, no noise and a room that never changes",
    })
    void aFrozenProbeAmongQuietOnes(long seed, double minutes, String what) {
        assertFoundWithin(FaultKind.PROBE_FROZEN, seed, minutes);
    }
}
