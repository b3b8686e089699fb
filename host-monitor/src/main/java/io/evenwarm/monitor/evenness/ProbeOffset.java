package io.evenwarm.monitor.evenness;

import java.time.Duration;
import java.time.Instant;

/**
 * What a check found of one probe.
 *
 * @param offset to add to what it reads: reference − probe, K
 * @param at when it was checked
 */
public record ProbeOffset(String probe, Estimate offset, Instant at) {

    /** Common practice, no source: once a year. */
    public static final Duration USUAL_INTERVAL = Duration.ofDays(365);

    public boolean isDue(Instant now, Duration interval) {
        return !now.isBefore(at.plus(interval));
    }

    /** Whether the offset found now differs from an earlier one by more than both allow. */
    public boolean hasDriftedSince(ProbeOffset earlier) {
        return offset.minus(earlier.offset).isBeyondZero();
    }
}
