package io.evenwarm.monitor.outage;

import java.time.Instant;

/**
 * A begin or an end, and how well it is known.
 *
 * @param earliest not after {@code likely}
 * @param latest not before {@code likely}
 */
public record Edge(Instant earliest, Instant likely, Instant latest) {

    public Edge {
        if (earliest.isAfter(likely) || latest.isBefore(likely)) {
            throw new IllegalArgumentException(
                    likely + " must be from " + earliest + " to " + latest);
        }
    }

    static Edge ofMillis(long earliest, long likely, long latest) {
        return new Edge(
                Instant.ofEpochMilli(Math.min(earliest, likely)),
                Instant.ofEpochMilli(likely),
                Instant.ofEpochMilli(Math.max(latest, likely)));
    }
}
