package io.evenwarm.agent.rehearsal;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import org.junit.jupiter.api.Test;

/** What a hung control thread leaves behind must not be taken for something else. */
final class HangTest {

    @Test
    void aHangIsNoOpenedDoor() {
        for (long seed : new long[] {5, 68}) {
            nothingElseIsFound(seed);
        }
    }

    @Test
    void aHangIsNoStuckHeater() {
        for (long seed : new long[] {10, 173}) {
            nothingElseIsFound(seed);
        }
    }

    private static void nothingElseIsFound(long seed) {
        CatalogueRun run = Catalogue.run(FaultKind.CONTROL_HANG, seed, () -> false);
        assertEquals(List.of(), run.others(), "seed " + seed);
    }
}
