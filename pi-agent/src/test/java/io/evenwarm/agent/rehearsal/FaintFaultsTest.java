package io.evenwarm.agent.rehearsal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Runs of the catalogue in which a fan or a probe showed so little that it was found late. */
final class FaintFaultsTest {

    private static final double MINUTE = 60;

    @ParameterizedTest(name = "{0}, seed {1}: {3}")
    @CsvSource({
        "FAN_SLOW, 28, 720, a heat that was hardly seen before",
        "FAN_SLOW, 30, 720, a line that was still young in a day of much weather",
        "FAN_SLOW, 70, 720, a twentieth of a kelvin",
        "FAN_SLOW, 91, 720, a room that leaves it no heat for hours",
        "FAN_STOPPED, 77, 20, a minute before a look that a switch at the door tells",
        "FAN_STOPPED, 25, 20, minutes after a look",
        "FAN_STOPPED, 61, 20, minutes after a look that the air tells",
        "PROBE_FROZEN, 39, 240, neighbours that move by less than a thermometer's step",
        "PROBE_FROZEN, 83, 60, no noise and a room that never changes",
    })
    void isFoundInTimeAndNothingElseIs(FaultKind kind, long seed, double minutes, String what) {
        CatalogueRun run = Catalogue.run(kind, seed, () -> false);
        double found = run.foundAfterSeconds().orElse(Double.POSITIVE_INFINITY) / MINUTE;
        assertTrue(found <= minutes, () -> what + ": " + found + " min");
        List<String> others = run.others().stream().map(Verdict.FoundFinding::shortWords).toList();
        assertEquals(List.of(), others, what);
    }
}
