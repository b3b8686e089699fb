package io.evenwarm.monitor.view;

import io.evenwarm.monitor.history.TimeSpan;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;

/**
 * Which stretch of time is looked at: one that follows the present, or a fixed one.
 *
 * @param choice the span that a return to the present shows
 * @param fixed what was zoomed or moved to; empty while the present is followed
 */
record Viewport(SpanChoice choice, Optional<TimeSpan> fixed) {

    /** Readings come once a second at most: nearer is nothing to see. */
    static final Duration SHORTEST = Duration.ofMinutes(1);

    /** A term of any reptile's eggs, with room. */
    static final Duration LONGEST = Duration.ofDays(400);

    static Viewport following(SpanChoice choice) {
        return new Viewport(choice, Optional.empty());
    }

    boolean isFollowing() {
        return fixed.isEmpty();
    }

    Viewport backToNow() {
        return following(choice);
    }

    /**
     * What is shown at a moment.
     *
     * @param now the newest moment there is
     * @param first when the first reading was taken, where that is known
     */
    TimeSpan at(Instant now, Optional<Instant> first) {
        if (fixed.isPresent()) {
            return fixed.get();
        }
        Duration length =
                choice.length()
                        .orElseGet(
                                () ->
                                        first.map(begin -> Duration.between(begin, now))
                                                .orElse(Duration.ofDays(1)));
        Duration held = length.compareTo(SHORTEST) < 0 ? SHORTEST : length;
        return new TimeSpan(now.minus(held), now);
    }

    /**
     * Makes what is seen longer or shorter about a place in it. Held to {@link #SHORTEST}, {@link
     * #LONGEST} and the present.
     *
     * @param seen what is shown now
     * @param fraction the place: 0 at its begin, 1 at its end
     * @param factor above 1 shows more, below 1 less
     */
    Viewport zoomed(TimeSpan seen, double fraction, double factor, Instant now) {
        long millis = seen.length().toMillis();
        long wanted =
                Math.max(
                        SHORTEST.toMillis(),
                        Math.min(LONGEST.toMillis(), Math.round(millis * factor)));
        long before = Math.round((millis - wanted) * fraction);
        Instant from = seen.from().plusMillis(before);
        return fixedAt(from, from.plusMillis(wanted), now);
    }

    /** Moves what is seen by a share of its length; above 0 towards the present. */
    Viewport moved(TimeSpan seen, double share, Instant now) {
        long by = Math.round(seen.length().toMillis() * share);
        return fixedAt(seen.from().plusMillis(by), seen.to().plusMillis(by), now);
    }

    /** Shows what lies between two moments, in either order. */
    Viewport between(Instant one, Instant other, Instant now) {
        Instant from = one.isBefore(other) ? one : other;
        Instant to = one.isBefore(other) ? other : one;
        Duration missing = SHORTEST.minus(Duration.between(from, to));
        if (!missing.isNegative()) {
            from = from.minus(missing.dividedBy(2));
            to = from.plus(SHORTEST);
        }
        return fixedAt(from, to, now);
    }

    private Viewport fixedAt(Instant from, Instant to, Instant now) {
        if (to.isAfter(now)) {
            Duration over = Duration.between(now, to);
            return new Viewport(choice, Optional.of(new TimeSpan(from.minus(over), now)));
        }
        return new Viewport(choice, Optional.of(new TimeSpan(from, to)));
    }
}
