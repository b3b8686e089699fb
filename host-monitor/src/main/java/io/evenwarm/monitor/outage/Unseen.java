package io.evenwarm.monitor.outage;

/**
 * A stretch without readings.
 *
 * @param lastMillis of the last reading before it, since the epoch
 * @param firstMillis of the first one after it; later
 * @param intervalMillis usual time between two readings before it
 */
public record Unseen(long lastMillis, long firstMillis, long intervalMillis) {

    public Unseen {
        if (firstMillis <= lastMillis || intervalMillis < 0) {
            throw new IllegalArgumentException(
                    "a stretch from " + lastMillis + " to " + firstMillis + " is none");
        }
    }
}
