package io.evenwarm.agent.loop;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.WallClock;

/**
 * The clocks that the loop runs by.
 *
 * @param ticks times the ticks; may run faster than real time
 * @param wall stamps the ticks, at the same speed
 * @param real the machine's own monotonic clock, for the lapse timer
 * @param speed seconds of {@code ticks} for each of {@code real}; above 0
 */
public record LoopClock(MonotonicClock ticks, WallClock wall, MonotonicClock real, double speed) {

    public LoopClock {
        if (!(speed > 0 && speed <= 10_000)) {
            throw new IllegalArgumentException(
                    "speed must be above 0 and at most 10000 but was " + speed);
        }
    }

    /** Real time. */
    public static LoopClock real(MonotonicClock clock, WallClock wall) {
        return new LoopClock(clock, wall, clock, 1);
    }
}
