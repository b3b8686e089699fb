package io.evenwarm.monitor.alarm;

import java.time.Duration;
import java.util.Optional;

/**
 * Priority, and the time left that it comes from: the time that the eggs have, and not how large a
 * deviation is, says how soon a person must act.
 *
 * @param timeLeft empty where no limit is coming nearer, or the trouble endangers no egg by itself
 */
record Urgency(Priority priority, Optional<Duration> timeLeft) {

    /**
     * From the time left.
     *
     * @param timeLeft by the estimate of a moment
     * @param ageNanos how long ago that moment is: the time left runs on
     */
    static Urgency of(
            AlarmKind kind, Optional<Duration> timeLeft, long ageNanos, AlarmTimes times) {
        if (timeLeft.isEmpty()) {
            return new Urgency(kind.least(), Optional.empty());
        }
        Duration rest = timeLeft.get().minusNanos(Math.max(0, ageNanos));
        Duration left = rest.isNegative() ? Duration.ZERO : rest;
        Priority byTime =
                left.compareTo(times.highWithin()) < 0
                        ? Priority.HIGH
                        : left.compareTo(times.mediumWithin()) < 0 ? Priority.MEDIUM : Priority.LOW;
        return new Urgency(Priority.higherOf(byTime, kind.least()), Optional.of(left));
    }

    /** The one with less time left. */
    Urgency moreUrgentOf(Urgency other) {
        if (timeLeft.isEmpty() || other.timeLeft.isEmpty()) {
            return timeLeft.isPresent() ? this : other;
        }
        return timeLeft.get().compareTo(other.timeLeft.get()) <= 0 ? this : other;
    }
}
