package io.evenwarm.agent.loop;

import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.testing.MemoryStores;
import io.evenwarm.agent.testing.Plans;
import java.util.Random;
import org.junit.jupiter.api.Test;

/** Heat is only ever lent: whenever ticks stop, and whatever came before, it ends. */
final class GrantLapsesPropertyTest {

    private static final int SEEDS = 300;
    private static final long SECOND = 1_000_000_000L;
    private static final long LOOK = LapseTimer.DEFAULT_LIMIT_NANOS / 20;

    @Test
    void heatEndsWithinTheLapseLimitAndOneLookWheneverTicksStop() {
        int silences = 0;
        int heated = 0;
        for (long seed = 1; seed <= SEEDS; seed++) {
            Random random = new Random(seed);
            TestCabinet cabinet = new TestCabinet(Plans.threeProbes(), new MemoryStores());
            long[] real = {0};
            LapseTimer timer =
                    new LapseTimer(
                            Plans.NORTH,
                            cabinet.loop.gate(),
                            () -> real[0],
                            LapseTimer.DEFAULT_LIMIT_NANOS);
            long nextTick = SECOND;
            long lastTick = 0;
            for (int look = 1; look <= 400; look++) {
                real[0] = look * LOOK;
                if (real[0] >= nextTick) {
                    cabinet.nowNanos = real[0] - SECOND;
                    cabinet.tickAt(20 + 5 * random.nextDouble());
                    lastTick = real[0];
                    // Mostly on time, at times late, at times silent for up to 20 s.
                    double kind = random.nextDouble();
                    long gap =
                            kind < 0.9
                                    ? SECOND
                                    : (long)
                                            ((kind < 0.97 ? 4 : 20) * SECOND * random.nextDouble());
                    nextTick = real[0] + Math.max(LOOK, gap);
                    heated += cabinet.heater.isEnergised() ? 1 : 0;
                }
                timer.step(real[0]);
                if (real[0] - lastTick >= LapseTimer.DEFAULT_LIMIT_NANOS + LOOK) {
                    silences++;
                    String where = "seed " + seed + ", look " + look;
                    assertFalse(cabinet.heater.isEnergised(), where);
                    assertFalse(cabinet.cutOffRelay.isEnergised(), where);
                }
            }
        }
        assertTrue(silences > SEEDS && heated > SEEDS, silences + " silences, " + heated + " hot");
    }
}
