package io.evenwarm.monitor.notice;

import java.time.Duration;

/**
 * What the outbox bears.
 *
 * @param pendingMax deliveries that wait at most
 * @param stuckAfter how long a delivery may wait before its channel is called stuck
 */
public record OutboxLimits(int pendingMax, Duration stuckAfter) {

    /** A hundred events to five people by two channels each; ten minutes without a word. */
    public static final OutboxLimits USUAL = new OutboxLimits(1000, Duration.ofMinutes(10));

    public OutboxLimits {
        if (pendingMax < 1 || stuckAfter.isNegative() || stuckAfter.isZero()) {
            throw new IllegalArgumentException(
                    "an outbox needs room and time but was given "
                            + pendingMax
                            + ", "
                            + stuckAfter);
        }
    }
}
