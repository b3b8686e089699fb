package io.evenwarm.monitor.alarm;

import java.time.Instant;

/**
 * A moment, by both clocks of the monitor.
 *
 * @param wall what people call it; may step either way between two moments
 * @param nanos monotonic time; only differences mean anything
 */
public record Now(Instant wall, long nanos) {

    /** Nanoseconds from {@code thenNanos} to this moment. */
    long sinceNanos(long thenNanos) {
        return nanos - thenNanos;
    }

    /** The wall time of an earlier monotonic moment, by what the wall clock shows now. */
    Instant wallOf(long thenNanos) {
        return wall.minusNanos(sinceNanos(thenNanos));
    }
}
