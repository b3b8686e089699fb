package io.evenwarm.monitor.outage;

import java.time.Instant;

/**
 * A begin or an end, and how well it is known.
 *
 * @param earliest not after {@code likely}
 * @param latest not before {@code likely}
 * @param isClockSet whether the agent's clock, by which it is told, was ever set in that run; where
 *     it was not, all three may be wrong by any amount
 */
public record Edge(Instant earliest, Instant likely, Instant latest, boolean isClockSet) {

    public Edge {
        if (earliest.isAfter(likely) || latest.isBefore(likely)) {
            throw new IllegalArgumentException(
                    likely + " must be from " + earliest + " to " + latest);
        }
    }

    /** By a clock that was set. */
    public Edge(Instant earliest, Instant likely, Instant latest) {
        this(earliest, likely, latest, true);
    }

    /** The same by a clock that was set, or was not. */
    Edge byClock(boolean isSet) {
        return new Edge(earliest, likely, latest, isSet);
    }

    static Edge ofMillis(long earliest, long likely, long latest) {
        return new Edge(
                Instant.ofEpochMilli(Math.min(earliest, likely)),
                Instant.ofEpochMilli(likely),
                Instant.ofEpochMilli(Math.max(latest, likely)));
    }
}
