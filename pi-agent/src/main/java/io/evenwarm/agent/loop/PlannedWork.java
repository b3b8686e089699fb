package io.evenwarm.agent.loop;

import java.util.Optional;

/**
 * Whether a person said that they work at the open cabinet: a state that ends by itself. It moves
 * no limit and holds no heat back; it keeps guard from reporting what an open door does. A restart
 * forgets it, so that nothing stays unreported for want of a person.
 */
final class PlannedWork {

    static final int SHORTEST_MINUTES = 1;
    static final int LONGEST_MINUTES = 30;

    private static final long NANOS_PER_MINUTE = 60_000_000_000L;

    private Optional<Long> untilNanos = Optional.empty();

    /** Why it can't be, in plain words; empty when it began, in place of one under way. */
    Optional<String> start(int minutes, long nowNanos) {
        if (minutes < SHORTEST_MINUTES || minutes > LONGEST_MINUTES) {
            return Optional.of(
                    "planned work must last "
                            + SHORTEST_MINUTES
                            + " to "
                            + LONGEST_MINUTES
                            + " minutes but "
                            + minutes
                            + " were asked for; start it again when it ends");
        }
        untilNanos = Optional.of(nowNanos + minutes * NANOS_PER_MINUTE);
        return Optional.empty();
    }

    /** Returns whether it was under way. */
    boolean end() {
        boolean wasUnderWay = untilNanos.isPresent();
        untilNanos = Optional.empty();
        return wasUnderWay;
    }

    /** Ends what has come to its end. */
    void see(long nowNanos) {
        if (untilNanos.isPresent() && nowNanos - untilNanos.get() >= 0) {
            untilNanos = Optional.empty();
        }
    }

    /** When it ends; empty when none is under way. */
    Optional<Long> untilNanos() {
        return untilNanos;
    }
}
