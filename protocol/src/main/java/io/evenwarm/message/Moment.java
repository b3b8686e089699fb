package io.evenwarm.message;

import java.time.Instant;

/**
 * A moment as an agent knows it. A Raspberry Pi has no battery clock, so its wall time can be hours
 * wrong after a power cut: the boot and the monotonic time order records and measure durations
 * whatever the wall clock does, and later knowledge corrects the wall time.
 *
 * @param boot the agent's run that this moment lies in
 * @param monotonicNanos nanoseconds on that run's monotonic clock
 * @param wall the wall clock's time at this moment
 * @param wallTrusted whether the wall clock had been set from outside by then
 */
public record Moment(BootId boot, long monotonicNanos, Instant wall, boolean wallTrusted) {}
