package io.evenwarm.monitor.notice;

import java.time.Instant;
import java.util.Optional;

/**
 * One notice on its one way to a person, as the store has it.
 *
 * @param at when it was written
 * @param channel by its name in the settings
 * @param ended when it was handed over, or given up; empty while it is still to be delivered
 * @param words what the other side answered, or why it failed
 */
public record NoticeSent(
        Instant at,
        NoticeKind kind,
        NoticePriority priority,
        String subject,
        String person,
        String channel,
        DeliveryState state,
        Optional<Instant> ended,
        String words) {}
