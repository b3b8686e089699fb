package io.evenwarm.monitor.outage;

import java.time.Instant;

/**
 * A time in which the monitor saw nothing of an agent.
 *
 * @param what what was dark: the monitor itself, or the network between
 * @param earliestMillis when it was last seen, since the epoch
 * @param fromMillis when it was taken for dark
 * @param toMillis when it was seen again; later
 */
public record Unwatched(Outage.Dark what, long earliestMillis, long fromMillis, long toMillis) {

    /** As {@link #Unwatched(Outage.Dark, long, long, long)}, of instants. */
    public static Unwatched of(Outage.Dark what, Instant earliest, Instant from, Instant to) {
        return new Unwatched(what, earliest.toEpochMilli(), from.toEpochMilli(), to.toEpochMilli());
    }

    /** How much of a time it shares with another one, ms. */
    long shared(Instant begin, Instant end) {
        return Math.max(
                0,
                Math.min(toMillis, end.toEpochMilli())
                        - Math.max(fromMillis, begin.toEpochMilli()));
    }
}
