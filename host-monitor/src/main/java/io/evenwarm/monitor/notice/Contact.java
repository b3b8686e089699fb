package io.evenwarm.monitor.notice;

import java.time.Duration;
import java.util.List;
import java.util.Optional;

/**
 * One person in the chain of those who are told.
 *
 * @param recipient who
 * @param channels by which they are told, all at once; at least one
 * @param answerWithin how long they have to acknowledge before the next in the chain is told
 * @param quiet when they are not to be told
 */
public record Contact(
        Recipient recipient,
        List<String> channels,
        Duration answerWithin,
        Optional<QuietHours> quiet) {

    public Contact {
        if (channels.isEmpty()) {
            throw new IllegalArgumentException(recipient.person() + " can't be reached at all");
        }
        if (answerWithin.isNegative()) {
            throw new IllegalArgumentException("a time to answer must not be negative");
        }
        channels = List.copyOf(channels);
    }

    public String person() {
        return recipient.person();
    }

    boolean isReachable(NoticePriority priority, NoticeTime now) {
        return quiet.isEmpty() || !quiet.get().keepBack(priority, now.wall());
    }
}
