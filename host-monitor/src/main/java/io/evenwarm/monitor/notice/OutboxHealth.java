package io.evenwarm.monitor.notice;

import java.time.Duration;
import java.util.List;
import java.util.Optional;

/**
 * How the outbox is, as facts for whoever raises alarms.
 *
 * @param pending deliveries that wait or are under way
 * @param stuck channels that delivered nothing for too long, and why
 * @param refusedCount deliveries refused for good since the start
 * @param overflowedCount deliveries that gave way since the start, because the queue was full
 * @param storeTrouble why the store can't keep what it should; empty when it can
 */
public record OutboxHealth(
        int pending,
        List<StuckChannel> stuck,
        long refusedCount,
        long overflowedCount,
        Optional<String> storeTrouble) {

    public OutboxHealth {
        stuck = List.copyOf(stuck);
    }

    /** Whether nothing waits for longer than it may and the store keeps what it should. */
    public boolean isWell() {
        return stuck.isEmpty() && storeTrouble.isEmpty();
    }

    /**
     * A channel that can't deliver.
     *
     * @param waiting how long its oldest delivery waits
     * @param words what the last try said; empty when none has ended yet
     */
    public record StuckChannel(String channel, int pending, Duration waiting, String words) {}
}
