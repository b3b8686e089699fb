package io.evenwarm.agent.app;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

final class TickJitterTest {

    private static final long MILLI = 1_000_000L;
    private static final long SECOND = 1000 * MILLI;

    private static TickJitter of(double... startMillis) {
        TickJitter jitter = new TickJitter();
        for (double start : startMillis) {
            jitter.add((long) (start * MILLI));
        }
        return jitter;
    }

    @Test
    void latenessIsAgainstTheEarliestTick() {
        // The first tick was itself 3 ms late.
        TickJitter jitter = of(5003, 6000, 7001.5, 8060);
        assertArrayEquals(new double[] {3, 0, 1.5, 60}, jitter.lateMillis(), 1e-9);
        assertEquals(60, jitter.worstMillis(), 1e-9);
        assertEquals(0, jitter.leftOut());
        assertEquals(0.75, jitter.shareOnTime());
        // Under 1, 2, 5 and 100 ms.
        assertArrayEquals(new long[] {1, 1, 1, 0, 0, 0, 1, 0, 0, 0, 0}, jitter.histogram());
        assertTrue(jitter.table().contains("4 ticks, 0 left out: 75.000 %"), jitter.table());
    }

    @Test
    void aTickThatWasLeftOutIsNotOnTime() {
        TickJitter jitter = of(0, 1000, 4000, 5000);
        assertEquals(2, jitter.leftOut());
        assertEquals(4.0 / 6, jitter.shareOnTime());
        assertFalse(jitter.isWithinBar());
    }

    @Test
    void oneLateTickInAThousandIsWithinTheBarAndTwoAreNot() {
        for (int late = 1; late <= 2; late++) {
            TickJitter jitter = new TickJitter();
            for (int tick = 0; tick < 1000; tick++) {
                jitter.add(tick * SECOND + (tick > 0 && tick <= late ? 50 * MILLI : 0));
            }
            assertEquals(late == 1, jitter.isWithinBar(), "late: " + late);
        }
    }

    @Test
    void withoutATickNothingIsOnTime() {
        assertEquals(0, of().shareOnTime());
        assertFalse(of().isWithinBar());
    }
}
