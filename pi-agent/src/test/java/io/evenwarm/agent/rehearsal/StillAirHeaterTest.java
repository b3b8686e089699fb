package io.evenwarm.agent.rehearsal;

import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.FindingCode;
import org.junit.jupiter.api.Test;

/** What one fault looks like first must not hide what it is. */
final class StillAirHeaterTest {

    /** What 95 of 100 may take at 10 % duty or more. */
    private static final double LATEST_SECONDS = 20 * 60;

    /**
     * Still air keeps the heat in the top, which looks like none in the middle for minutes; the
     * heat that does come must then not pass for a reason why the layers part.
     */
    @Test
    void aFanThatStopsIsFoundThoughTheHeaterSeemsToGiveNothing() {
        for (long seed : new long[] {30050, 30057, 30033}) {
            CatalogueRun run = Catalogue.run(FaultKind.FAN_STOPPED, seed, () -> false);
            assertTrue(run.foundAfterSeconds().isPresent(), "seed " + seed);
            double found = run.foundAfterSeconds().getAsDouble();
            assertTrue(found < LATEST_SECONDS, "seed " + seed + ": " + found + " s");
        }
    }

    @Test
    void aProbeThatPlungesIntoAColdRoomFellOutAndIsNotNoisy() {
        for (long seed : new long[] {30002, 30056}) {
            CatalogueRun run = Catalogue.run(FaultKind.PROBE_FELL_OUT, seed, () -> false);
            assertTrue(run.foundAfterSeconds().isPresent(), "seed " + seed);
            assertFalse(
                    run.verdict().firstRaised(FindingCode.PROBE_NOISY).isPresent(), "seed " + seed);
        }
    }
}
