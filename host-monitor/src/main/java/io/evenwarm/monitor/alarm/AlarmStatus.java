package io.evenwarm.monitor.alarm;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;

/**
 * All that is known of one alarm.
 *
 * @param stateSince when it came into this state
 * @param delay whether its condition is there, and what delay runs
 * @param event empty before it first occurs
 * @param priority the highest in this occurrence
 * @param timeLeft how long the eggs had when it was last judged; empty where no limit is coming
 *     nearer or nothing is known
 * @param wasAcknowledged whether a person acknowledged this occurrence
 * @param needsReset whether it is latched
 * @param shelf while it is shelved
 * @param lastPresentNanos monotonic time when its condition was last told of
 * @param words the newest
 * @param wordsAtNanos monotonic time when they were made
 */
public record AlarmStatus(
        AlarmKey key,
        AlarmState state,
        Now stateSince,
        Delay delay,
        Optional<EventId> event,
        Priority priority,
        Optional<Duration> timeLeft,
        boolean wasAcknowledged,
        boolean needsReset,
        Optional<Shelf> shelf,
        long lastPresentNanos,
        AlarmWords words,
        long wordsAtNanos) {

    /**
     * That a person does not want to hear of it for a while.
     *
     * @param untilNanos monotonic time at which it ends by itself
     * @param who the person who shelved it
     * @param why that person's reason
     */
    public record Shelf(long untilNanos, String who, String why) {}

    /** When its shelf ends by itself, by what the wall clock shows now. */
    public Optional<Instant> shelvedUntil(Now now) {
        return shelf.map(there -> now.wall().plusNanos(there.untilNanos() - now.nanos()));
    }

    /**
     * When its condition began, by what the wall clock shows now; its last change where it is over.
     */
    public Instant began(Now now) {
        long nanos = delay.isRaised() ? delay.presentSinceNanos() : stateSince.nanos();
        return now.wallOf(Math.min(nanos, now.nanos()));
    }
}
