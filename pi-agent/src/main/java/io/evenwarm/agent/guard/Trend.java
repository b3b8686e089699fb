package io.evenwarm.agent.guard;

/** A value of each of the last minutes, to see whether it rises or falls. */
final class Trend {

    private static final long MINUTE_NANOS = 60_000_000_000L;

    private final double[] values;
    private int newest = -1;
    private int count;
    private long lastNanos;

    /**
     * @param minutes how far back it looks, 1 or more
     */
    Trend(int minutes) {
        values = new double[minutes + 1];
    }

    void take(double value, long nowNanos) {
        if (count > 0 && nowNanos - lastNanos < MINUTE_NANOS) {
            return;
        }
        lastNanos = nowNanos;
        newest = (newest + 1) % values.length;
        values[newest] = value;
        count = Math.min(count + 1, values.length);
    }

    void restart() {
        count = 0;
    }

    /** Whether it looks back all its minutes. */
    boolean isFull() {
        return count == values.length;
    }

    /** Newest less oldest; only when {@link #isFull}. */
    double rise() {
        return values[newest] - values[(newest + 1) % values.length];
    }
}
