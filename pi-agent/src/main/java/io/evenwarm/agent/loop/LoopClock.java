package io.evenwarm.agent.loop;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.WallClock;
import java.time.Instant;

/**
 * The clocks that the loop runs by.
 *
 * @param ticks times the ticks; may run faster than real time
 * @param wall stamps the ticks, at the same speed
 * @param real the machine's own monotonic clock, for the lapse timer
 * @param speed seconds of {@code ticks} for each of {@code real}; above 0
 */
public record LoopClock(MonotonicClock ticks, WallClock wall, MonotonicClock real, double speed) {

    /** Reading a clock takes microseconds; longer, and the program was held up meanwhile. */
    private static final long HELD_UP_NANOS = 1_000_000;

    private static final int TRIES_MAX = 5;

    public LoopClock {
        if (!(speed > 0 && speed <= 10_000)) {
            throw new IllegalArgumentException(
                    "speed must be above 0 and at most 10000 but was " + speed);
        }
    }

    /**
     * The wall time at a reading of the tick clock, however long that was ago: a program that was
     * held up between two readings must not take the delay for a jump of the wall clock.
     */
    public Instant wallAt(long tickNanos) {
        for (int tries = 1; ; tries++) {
            long before = ticks.nanos();
            Instant now = wall.now();
            long after = ticks.nanos();
            if (after - before <= HELD_UP_NANOS * speed || tries == TRIES_MAX) {
                return now.minusNanos(before + (after - before) / 2 - tickNanos);
            }
        }
    }

    /** Real time. */
    public static LoopClock real(MonotonicClock clock, WallClock wall) {
        return new LoopClock(clock, wall, clock, 1);
    }
}
