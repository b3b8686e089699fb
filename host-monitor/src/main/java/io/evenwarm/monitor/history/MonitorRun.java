package io.evenwarm.monitor.history;

import java.time.Instant;
import java.util.Optional;

/**
 * One run of the monitor, by its own wall clock.
 *
 * @param lastAlive when it last said that it lived; it says so every half minute
 * @param ended when it ended as it was asked to; empty where it was killed, or still runs
 */
public record MonitorRun(Instant started, Instant lastAlive, Optional<Instant> ended) {

    /** When it was last known to live. */
    public Instant last() {
        return ended.orElse(lastAlive);
    }
}
