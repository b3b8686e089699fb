package io.evenwarm.monitor.history;

import java.time.Duration;
import java.time.Instant;

/**
 * A stretch of wall time.
 *
 * @param from its begin, included
 * @param to its end, excluded; not before {@code from}
 */
public record TimeSpan(Instant from, Instant to) {

    public TimeSpan {
        if (to.isBefore(from)) {
            throw new IllegalArgumentException(
                    "a span must end at or after " + from + " but ended " + to);
        }
    }

    public Duration length() {
        return Duration.between(from, to);
    }
}
