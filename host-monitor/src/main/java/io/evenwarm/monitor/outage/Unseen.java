package io.evenwarm.monitor.outage;

/**
 * A stretch without readings.
 *
 * @param lastMillis of the last reading before it, since the epoch
 * @param firstMillis of the first one after it; later
 * @param intervalMillis usual time between two readings before it
 * @param isClockSetBefore whether the clock that dates the last reading before it was ever set
 * @param isClockSetAfter the same of the first one after it
 */
public record Unseen(
        long lastMillis,
        long firstMillis,
        long intervalMillis,
        boolean isClockSetBefore,
        boolean isClockSetAfter) {

    public Unseen {
        if (firstMillis <= lastMillis || intervalMillis < 0) {
            throw new IllegalArgumentException(
                    "a stretch from " + lastMillis + " to " + firstMillis + " is none");
        }
    }
}
