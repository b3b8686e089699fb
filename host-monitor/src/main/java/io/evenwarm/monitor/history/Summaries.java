package io.evenwarm.monitor.history;

import java.util.Arrays;

/**
 * A quantity over time, summed up stretch by stretch, oldest first: least, greatest and mean of the
 * readings that have a value, how many those are, and how many have none. A stretch without any
 * reading is left out. Immutable; backed by arrays, as {@link Curve} is.
 */
public final class Summaries {

    private final long stepMillis;
    private final long[] begins;
    private final double[] least;
    private final double[] greatest;
    private final double[] means;
    private final long[] counts;
    private final long[] badCounts;

    private Summaries(Builder from) {
        stepMillis = from.stepMillis;
        begins = Arrays.copyOf(from.begins, from.size);
        least = Arrays.copyOf(from.least, from.size);
        greatest = Arrays.copyOf(from.greatest, from.size);
        means = Arrays.copyOf(from.means, from.size);
        counts = Arrays.copyOf(from.counts, from.size);
        badCounts = Arrays.copyOf(from.badCounts, from.size);
    }

    public int size() {
        return begins.length;
    }

    /** Length of each stretch, in milliseconds. */
    public long stepMillis() {
        return stepMillis;
    }

    /** Begin of a stretch, in milliseconds since the epoch. */
    public long beginMillis(int index) {
        return begins[index];
    }

    /** The least value; NaN where no reading has one. */
    public double least(int index) {
        return least[index];
    }

    /** The greatest value; NaN where no reading has one. */
    public double greatest(int index) {
        return greatest[index];
    }

    /** The mean of the values, to a millionth; NaN where no reading has one. */
    public double mean(int index) {
        return means[index];
    }

    /** How many readings have a value. */
    public long count(int index) {
        return counts[index];
    }

    /** How many readings have none. */
    public long badCount(int index) {
        return badCounts[index];
    }

    /** The same over stretches that are {@code times} as long. */
    public Summaries combined(int times) {
        long wide = stepMillis * times;
        Builder combined = new Builder(wide);
        int i = 0;
        while (i < begins.length) {
            long begin = begins[i] - Math.floorMod(begins[i], wide);
            double low = Double.NaN;
            double high = Double.NaN;
            double sum = 0;
            long count = 0;
            long bad = 0;
            for (; i < begins.length && begins[i] < begin + wide; i++) {
                bad += badCounts[i];
                if (counts[i] > 0) {
                    low = count == 0 ? least[i] : Math.min(low, least[i]);
                    high = count == 0 ? greatest[i] : Math.max(high, greatest[i]);
                    sum += means[i] * counts[i];
                    count += counts[i];
                }
            }
            combined.add(begin, low, high, count == 0 ? Double.NaN : sum / count, count, bad);
        }
        return combined.build();
    }

    /** Collects stretches, oldest first. */
    public static final class Builder {

        private static final int SIZE_AT_FIRST = 256;

        private final long stepMillis;
        private int size;
        private long[] begins = new long[SIZE_AT_FIRST];
        private double[] least = new double[SIZE_AT_FIRST];
        private double[] greatest = new double[SIZE_AT_FIRST];
        private double[] means = new double[SIZE_AT_FIRST];
        private long[] counts = new long[SIZE_AT_FIRST];
        private long[] badCounts = new long[SIZE_AT_FIRST];

        public Builder(long stepMillis) {
            this.stepMillis = stepMillis;
        }

        /** Adds a stretch; {@code low}, {@code high} and {@code mean} count with a count only. */
        public void add(
                long beginMillis, double low, double high, double mean, long count, long bad) {
            if (size == begins.length) {
                begins = Arrays.copyOf(begins, 2 * size);
                least = Arrays.copyOf(least, 2 * size);
                greatest = Arrays.copyOf(greatest, 2 * size);
                means = Arrays.copyOf(means, 2 * size);
                counts = Arrays.copyOf(counts, 2 * size);
                badCounts = Arrays.copyOf(badCounts, 2 * size);
            }
            begins[size] = beginMillis;
            least[size] = count == 0 ? Double.NaN : low;
            greatest[size] = count == 0 ? Double.NaN : high;
            means[size] = count == 0 ? Double.NaN : mean;
            counts[size] = count;
            badCounts[size++] = bad;
        }

        public Summaries build() {
            return new Summaries(this);
        }
    }
}
