package io.evenwarm.monitor.history;

import java.util.Arrays;

/**
 * Values over time, oldest first. A NaN value is a gap: nothing is drawn to or from it. Immutable.
 *
 * <p>Backed by arrays and not by a list of records, since a day of one probe has 86,400 points.
 */
public final class Curve {

    private static final double[] NO_VALUES = new double[0];
    private static final Curve EMPTY = new Curve(new long[0], NO_VALUES, NO_VALUES, 0);

    private final long[] epochMillis;
    private final double[] values;
    private final double[] means;
    private final int size;

    private Curve(long[] epochMillis, double[] values, double[] means, int size) {
        this.epochMillis = epochMillis;
        this.values = values;
        this.means = means;
        this.size = size;
    }

    public static Curve empty() {
        return EMPTY;
    }

    /** Copies the first {@code size} points. */
    public static Curve of(long[] epochMillis, double[] values, int size) {
        double[] copy = Arrays.copyOf(values, size);
        return new Curve(Arrays.copyOf(epochMillis, size), copy, copy, size);
    }

    /**
     * As {@link #of}, of points that stand for many readings.
     *
     * @param means mean of the readings that each point stands for
     */
    public static Curve ofSummaries(long[] epochMillis, double[] values, double[] means, int size) {
        return new Curve(
                Arrays.copyOf(epochMillis, size),
                Arrays.copyOf(values, size),
                Arrays.copyOf(means, size),
                size);
    }

    public int size() {
        return size;
    }

    /** Wall time of point {@code index}, milliseconds since the epoch. */
    public long epochMillis(int index) {
        return epochMillis[index];
    }

    /** Value of point {@code index} in the curve's unit, or NaN for a gap. */
    public double value(int index) {
        return values[index];
    }

    /**
     * Mean of the readings that point {@code index} stands for: its value where it stands for one.
     */
    public double mean(int index) {
        return means[index];
    }
}
