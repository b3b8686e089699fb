package io.evenwarm.message;

import java.time.Instant;
import java.util.Optional;

/**
 * A moment as an agent knows it. A Raspberry Pi has no battery clock, so its wall time can be hours
 * wrong after a power cut: the boot and the monotonic time order records and measure durations
 * whatever the wall clock does, and later knowledge corrects the wall time.
 *
 * @param boot the agent's run that this moment lies in
 * @param monotonicNanos nanoseconds on that run's monotonic clock
 * @param wall the wall clock's time at this moment
 * @param wallTrusted whether the wall clock had been set from outside by then, or {@code wall} was
 *     corrected once it was
 * @param recordedWall what the untrusted wall clock showed at this moment; only where {@code wall}
 *     was corrected since
 */
public record Moment(
        BootId boot,
        long monotonicNanos,
        Instant wall,
        boolean wallTrusted,
        Optional<Instant> recordedWall) {

    /** As the clocks showed it. */
    public Moment(BootId boot, long monotonicNanos, Instant wall, boolean wallTrusted) {
        this(boot, monotonicNanos, wall, wallTrusted, Optional.empty());
    }

    /** The same moment by what became known of the wall time later. */
    public Moment corrected(Instant trueWall) {
        return new Moment(boot, monotonicNanos, trueWall, true, Optional.of(wall));
    }
}
