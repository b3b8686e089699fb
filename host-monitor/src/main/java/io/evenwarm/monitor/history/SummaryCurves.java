package io.evenwarm.monitor.history;

import java.util.Arrays;

/**
 * Makes curves of summaries. Pure.
 *
 * <p>A line goes through the least and the greatest value of every stretch, so an excursion of one
 * reading is on the picture however coarse the tier. A gap is where half of a stretch or more has
 * no value, or where stretches are missing for certainly longer than {@value #INTERVALS_PER_HOLE}
 * of the readings' usual intervals.
 */
public final class SummaryCurves {

    /** As with single readings: one lost reading is a slip. */
    private static final int INTERVALS_PER_HOLE = 3;

    /** Stretches to either side that say how many readings are usual. */
    private static final int NEIGHBOURS = 8;

    private final Summaries summaries;
    private final long newestMillis;
    private final double[] usual;

    private long[] times = new long[256];
    private double[] values = new double[256];
    private double[] means = new double[256];
    private int size;

    private SummaryCurves(Summaries summaries, long newestMillis) {
        this.summaries = summaries;
        this.newestMillis = newestMillis;
        usual = new double[summaries.size()];
        long[] near = new long[2 * NEIGHBOURS + 1];
        for (int i = 0; i < usual.length; i++) {
            int from = Math.max(0, i - NEIGHBOURS);
            int to = Math.min(usual.length, i + NEIGHBOURS + 1);
            for (int j = from; j < to; j++) {
                near[j - from] = summaries.count(j) + summaries.badCount(j);
            }
            Arrays.sort(near, 0, to - from);
            usual[i] = near[(to - from) / 2];
        }
    }

    /**
     * A line through all extremes. Within a stretch the extreme nearer to the line so far comes
     * first: in which order they came is not kept.
     *
     * @param newestMillis time of the newest reading there is; nothing is drawn after it
     */
    public static Curve line(Summaries summaries, long newestMillis) {
        return new SummaryCurves(summaries, newestMillis).line();
    }

    /** What holds from one change to the next, such as a set point: begins of what was new. */
    public static Curve steps(Summaries summaries, long newestMillis) {
        return new SummaryCurves(summaries, newestMillis).steps();
    }

    /** Shares of the time since the point before, such as that of a heater that was on. */
    public static Curve shares(Summaries summaries, long newestMillis) {
        return new SummaryCurves(summaries, newestMillis).shares();
    }

    private Curve line() {
        double last = Double.NaN;
        for (int i = 0; i < summaries.size(); i++) {
            long begin = summaries.beginMillis(i);
            long length = end(i) - begin;
            endLineBeforeHole(i);
            if (summaries.count(i) == 0) {
                add(begin + length / 2, Double.NaN, Double.NaN);
                continue;
            }
            double low = summaries.least(i);
            double high = summaries.greatest(i);
            double mean = summaries.mean(i);
            if (low == high) {
                add(begin + length / 2, low, mean);
                last = low;
            } else {
                boolean rises = !(Math.abs(last - high) < Math.abs(last - low));
                add(begin + length / 4, rises ? low : high, mean);
                add(begin + 3 * length / 4, rises ? high : low, mean);
                last = rises ? high : low;
            }
            if (isHalfEmpty(i)) {
                add(begin + length - 1, Double.NaN, Double.NaN);
            }
        }
        return build();
    }

    private Curve steps() {
        double last = Double.NaN;
        for (int i = 0; i < summaries.size(); i++) {
            long begin = summaries.beginMillis(i);
            double low = summaries.least(i);
            double high = summaries.greatest(i);
            endLineBeforeHole(i);
            boolean rises = !(Math.abs(last - high) < Math.abs(last - low));
            last = rises ? high : low;
            add(begin, rises ? low : high, summaries.mean(i));
            if (low != high) {
                add(begin + (end(i) - begin) / 2, last, summaries.mean(i));
            }
            if (i == summaries.size() - 1) {
                add(end(i) - 1, last, summaries.mean(i));
            }
        }
        return build();
    }

    private Curve shares() {
        for (int i = 0; i < summaries.size(); i++) {
            double mean = summaries.mean(i);
            if (endLineBeforeHole(i) || i == 0) {
                add(summaries.beginMillis(i), mean, mean);
            }
            add(end(i) - 1, mean, mean);
        }
        return build();
    }

    /** End of a stretch, or of what there is of it. */
    private long end(int index) {
        long begin = summaries.beginMillis(index);
        return Math.max(begin, Math.min(begin + summaries.stepMillis() - 1, newestMillis)) + 1;
    }

    /** Whether there is one; the line is ended then. */
    private boolean endLineBeforeHole(int index) {
        if (index == 0) {
            return false;
        }
        long endBefore = summaries.beginMillis(index - 1) + summaries.stepMillis();
        double missing = summaries.beginMillis(index) - endBefore;
        double usualInterval = summaries.stepMillis() / Math.max(1, usual[index]);
        if (missing <= INTERVALS_PER_HOLE * usualInterval) {
            return false;
        }
        add(endBefore, Double.NaN, Double.NaN);
        return true;
    }

    private boolean isHalfEmpty(int index) {
        long bad = summaries.badCount(index);
        long all = bad + summaries.count(index);
        // The first and the last stretch begin and end where the readings do.
        boolean isWhole = index > 0 && index < summaries.size() - 1;
        return 2 * bad >= all || (isWhole && 2 * all <= usual[index]);
    }

    private void add(long time, double value, double mean) {
        if (size == times.length) {
            times = Arrays.copyOf(times, 2 * size);
            values = Arrays.copyOf(values, 2 * size);
            means = Arrays.copyOf(means, 2 * size);
        }
        times[size] = time;
        values[size] = value;
        means[size++] = mean;
    }

    private Curve build() {
        return Curve.ofSummaries(times, values, means, size);
    }
}
