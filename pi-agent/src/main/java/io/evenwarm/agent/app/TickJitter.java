package io.evenwarm.agent.app;

import java.util.Locale;

/**
 * How late ticks began, against a grid of whole seconds that the earliest of them sets. A tick that
 * was left out counts as one of the latest.
 *
 * <p>One thread at a time.
 */
final class TickJitter {

    /** Bounds of the histogram's classes, in ms; what is later comes after the last. */
    static final double[] BOUNDS_MILLIS = {1, 2, 5, 10, 20, 50, 100, 200, 500, 1000};

    /** A tick that begins before this is on time. */
    static final double BAR_MILLIS = 50;

    /** This share of all ticks has to. */
    static final double BAR_SHARE = 0.999;

    private static final long PERIOD_NANOS = 1_000_000_000L;
    private static final double NANOS_PER_MILLI = 1e6;
    private static final int MOST = 100_000;

    private final long[] starts = new long[MOST];
    private int count;

    /**
     * Adds a tick, later than the one before. More than 100,000 are not taken.
     *
     * @param startNanos when it began, monotonic
     */
    void add(long startNanos) {
        if (count < MOST) {
            starts[count++] = startNanos;
        }
    }

    /** How many ticks began. */
    int ticks() {
        return count;
    }

    /** How many of the grid's seconds between the first and the last tick had none. */
    long leftOut() {
        if (count == 0) {
            return 0;
        }
        long spanNanos = starts[count - 1] - starts[0];
        return Math.max(0, Math.round((double) spanNanos / PERIOD_NANOS) + 1 - count);
    }

    /** Lateness of each tick in ms, in order. */
    double[] lateMillis() {
        double[] late = new double[count];
        long earliest = Long.MAX_VALUE;
        for (int i = 0; i < count; i++) {
            earliest = Math.min(earliest, phase(i));
        }
        for (int i = 0; i < count; i++) {
            late[i] = (phase(i) - earliest) / NANOS_PER_MILLI;
        }
        return late;
    }

    /** Where in its second of the first tick's grid a tick lies, −½ s to ½ s. */
    private long phase(int tick) {
        long sinceNanos = starts[tick] - starts[0];
        return sinceNanos - Math.round((double) sinceNanos / PERIOD_NANOS) * PERIOD_NANOS;
    }

    /** Share of all due ticks that began on time; 0 when there were none. */
    double shareOnTime() {
        long onTime = 0;
        for (double late : lateMillis()) {
            if (late < BAR_MILLIS) {
                onTime++;
            }
        }
        long due = count + leftOut();
        return due == 0 ? 0 : (double) onTime / due;
    }

    /** Whether enough of them did. */
    boolean isWithinBar() {
        return shareOnTime() >= BAR_SHARE;
    }

    /** How many ticks lie in each class of the histogram; one class more than bounds. */
    long[] histogram() {
        long[] classes = new long[BOUNDS_MILLIS.length + 1];
        for (double late : lateMillis()) {
            int at = 0;
            while (at < BOUNDS_MILLIS.length && late >= BOUNDS_MILLIS[at]) {
                at++;
            }
            classes[at]++;
        }
        return classes;
    }

    /** The latest tick in ms. */
    double worstMillis() {
        double worst = 0;
        for (double late : lateMillis()) {
            worst = Math.max(worst, late);
        }
        return worst;
    }

    /** The histogram for a person, one line a class. */
    String table() {
        StringBuilder text = new StringBuilder(600);
        long[] classes = histogram();
        for (int i = 0; i < classes.length; i++) {
            String bound =
                    i < BOUNDS_MILLIS.length
                            ? String.format(Locale.ROOT, "under %5.0f ms", BOUNDS_MILLIS[i])
                            : String.format(
                                    Locale.ROOT,
                                    "from  %5.0f ms",
                                    BOUNDS_MILLIS[BOUNDS_MILLIS.length - 1]);
            text.append(String.format(Locale.ROOT, "%s  %6d%n", bound, classes[i]));
        }
        text.append(
                String.format(
                        Locale.ROOT,
                        "speed-6 %d ticks, %d left out: %.3f %% began under %.0f ms late (bar %.1f"
                                + " %%), the latest %.2f ms%n",
                        count,
                        leftOut(),
                        100 * shareOnTime(),
                        BAR_MILLIS,
                        100 * BAR_SHARE,
                        worstMillis()));
        return text.toString();
    }
}
