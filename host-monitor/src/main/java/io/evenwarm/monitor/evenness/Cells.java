package io.evenwarm.monitor.evenness;

import io.evenwarm.monitor.history.Curve;
import io.evenwarm.monitor.history.TimeSpan;
import java.util.Arrays;
import java.util.List;

/**
 * Readings of several points as means of equal stretches of time, the same for all: at least a
 * minute, so that neither a probe's own noise nor its last digit counts as the air's. A stretch
 * without a reading is NaN.
 */
final class Cells {

    static final long CELL_MILLIS_MIN = 60_000;

    /** As many intervals say what is usual. */
    private static final int INTERVALS_LOOKED_AT = 2001;

    /** Of each, and the end of the last. */
    private final long[] beginsMillis;

    private final long cellMillis;
    private final double[][] values;

    private Cells(long[] beginsMillis, long cellMillis, double[][] values) {
        this.beginsMillis = beginsMillis;
        this.cellMillis = cellMillis;
        this.values = values;
    }

    /** Cells of a span; the last one, where it would not be whole, is left out. */
    static Cells of(TimeSpan span, long cellMillis, Curve... curves) {
        long begin = span.from().toEpochMilli();
        int count = (int) ((span.to().toEpochMilli() - begin) / cellMillis);
        double[][] values = new double[curves.length][];
        for (int i = 0; i < curves.length; i++) {
            values[i] = means(curves[i], begin, cellMillis, count);
        }
        long[] begins = new long[count + 1];
        Arrays.setAll(begins, cell -> begin + cell * cellMillis);
        return new Cells(begins, cellMillis, values);
    }

    /** The same of points, each only while its probe stood there. */
    static Cells of(TimeSpan span, long cellMillis, List<SurveyPoint> points) {
        Cells cells =
                of(span, cellMillis, points.stream().map(SurveyPoint::curve).toArray(Curve[]::new));
        for (int i = 0; i < cells.values.length; i++) {
            for (int cell = 0; cell < cells.values[i].length; cell++) {
                if (!points.get(i).wasThere(cells.beginMillis(cell), cellMillis)) {
                    cells.values[i][cell] = Double.NaN;
                }
            }
        }
        return cells;
    }

    private static double[] means(Curve curve, long begin, long cellMillis, int count) {
        double[] sums = new double[count];
        int[] counts = new int[count];
        for (int i = 0; i < curve.size(); i++) {
            double value = curve.value(i);
            long since = curve.epochMillis(i) - begin;
            if (since < 0 || Double.isNaN(value)) {
                continue;
            }
            int cell = (int) Math.min(Integer.MAX_VALUE, since / cellMillis);
            if (cell < count) {
                sums[cell] += value;
                counts[cell]++;
            }
        }
        for (int i = 0; i < count; i++) {
            sums[i] = counts[i] == 0 ? Double.NaN : sums[i] / counts[i];
        }
        return sums;
    }

    /** The usual time between two readings, in milliseconds; 0 where there are fewer than two. */
    static long usualIntervalMillis(Curve curve) {
        int pairs = curve.size() - 1;
        if (pairs < 1) {
            return 0;
        }
        int stride = Math.max(1, pairs / INTERVALS_LOOKED_AT);
        long[] intervals = new long[(pairs + stride - 1) / stride];
        int found = 0;
        for (int i = 0; i < pairs; i += stride) {
            intervals[found++] = curve.epochMillis(i + 1) - curve.epochMillis(i);
        }
        Arrays.sort(intervals, 0, found);
        return intervals[found / 2];
    }

    /**
     * How long a cell must be so that every point has a reading in each. Loggers are a second early
     * or late: two thirds of a cell more than an interval.
     */
    static long cellMillis(List<SurveyPoint> points) {
        long longest = CELL_MILLIS_MIN;
        for (SurveyPoint point : points) {
            long minutes = Math.round(usualIntervalMillis(point.curve()) / 60_000.0);
            longest = Math.max(longest, minutes * 60_000);
        }
        return longest;
    }

    /** A part, from one cell to before another. */
    Cells part(int from, int to) {
        return parts(List.of(new Settling.Found(from, to, "")));
    }

    /** Several parts in a row, each from one cell to before another. */
    Cells parts(List<Settling.Found> parts) {
        int count = parts.stream().mapToInt(Settling.Found::size).sum();
        long[] begins = new long[count + 1];
        double[][] there = new double[values.length][count];
        int at = 0;
        for (Settling.Found part : parts) {
            System.arraycopy(beginsMillis, part.from(), begins, at, part.size());
            for (int i = 0; i < there.length; i++) {
                System.arraycopy(values[i], part.from(), there[i], at, part.size());
            }
            at += part.size();
            begins[at] = begins[at - 1] + cellMillis;
        }
        return new Cells(begins, cellMillis, there);
    }

    /** Some of the points. */
    Cells only(List<Integer> points) {
        double[][] some = new double[points.size()][];
        Arrays.setAll(some, i -> values[points.get(i)]);
        return new Cells(beginsMillis, cellMillis, some);
    }

    int points() {
        return values.length;
    }

    int size() {
        return beginsMillis.length - 1;
    }

    long cellMillis() {
        return cellMillis;
    }

    double minutes() {
        return cellMillis / 60_000.0;
    }

    long beginMillis(int cell) {
        return beginsMillis[cell];
    }

    double value(int point, int cell) {
        return values[point][cell];
    }

    /** How many cells a length of time fills, at least one. */
    int cellsOf(double lengthMinutes) {
        return (int) Math.max(1, Math.ceil(lengthMinutes / minutes()));
    }

    /** The mean of those of a stretch that have a value; NaN where none has. */
    double mean(int point, int from, int to) {
        double sum = 0;
        int count = 0;
        for (int i = from; i < to; i++) {
            double value = values[point][i];
            if (!Double.isNaN(value)) {
                sum += value;
                count++;
            }
        }
        return count == 0 ? Double.NaN : sum / count;
    }

    /** How many have no value. */
    int missing(int point) {
        int missing = 0;
        for (double value : values[point]) {
            if (Double.isNaN(value)) {
                missing++;
            }
        }
        return missing;
    }

    /** First cell and length of the longest stretch without a value. */
    int[] longestHole(int point) {
        int bestFrom = 0;
        int best = 0;
        int from = 0;
        double[] of = values[point];
        for (int i = 0; i <= of.length; i++) {
            if (i == of.length || !Double.isNaN(of[i])) {
                if (i - from > best) {
                    best = i - from;
                    bestFrom = from;
                }
                from = i + 1;
            }
        }
        return new int[] {bestFrom, best};
    }

    /** A point's values, with straight lines across its holes. */
    double[] withoutHoles(int point) {
        return withoutHoles(values[point]);
    }

    /** Values with straight lines across those that are NaN. */
    static double[] withoutHoles(double[] of) {
        double[] filled = of.clone();
        int last = -1;
        for (int i = 0; i < filled.length; i++) {
            if (Double.isNaN(filled[i])) {
                continue;
            }
            for (int j = last + 1; j < i; j++) {
                filled[j] =
                        last < 0
                                ? filled[i]
                                : filled[last]
                                        + (filled[i] - filled[last]) * (j - last) / (i - last);
            }
            last = i;
        }
        if (last >= 0) {
            Arrays.fill(filled, last + 1, filled.length, filled[last]);
        }
        return filled;
    }

    static double median(double[] values, int count) {
        double[] sorted = Arrays.copyOf(values, count);
        Arrays.sort(sorted);
        return count == 0
                ? Double.NaN
                : count % 2 == 1
                        ? sorted[count / 2]
                        : (sorted[count / 2 - 1] + sorted[count / 2]) / 2;
    }
}
