package io.evenwarm.monitor.notice;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.WallClock;
import java.time.Instant;

/**
 * Now, by both clocks. Waits go by the monotonic side, so that a wall clock that steps makes
 * nothing late; the wall side is what is kept over a restart.
 */
public record NoticeTime(long nanos, Instant wall) {

    /** Asks both clocks. */
    public static NoticeTime of(MonotonicClock monotonic, WallClock wall) {
        return new NoticeTime(monotonic.nanos(), wall.now());
    }
}
