package io.evenwarm.monitor.chart;

import java.util.Arrays;
import java.util.Optional;

/**
 * Thins a trace to what a picture of a given width can show.
 *
 * <p>Of each pixel column the first, the last, the lowest and the highest point stay (the M4
 * aggregation [1]): the line through them covers the same pixels as the line through all, so a
 * one-sample spike is kept. A gap is kept too, and widened to {@link #GAP_PIXELS_MIN} so that an
 * eye can find it; what follows a gap is moved right by less than that for it. A point alone
 * between two gaps becomes a dash one pixel long, since a line of one point would draw nothing.
 *
 * <p>[1] U. Jugel, Z. Jerzak, G. Hackenbroich, V. Markl, "M4: A Visualization-Oriented Time Series
 * Data Aggregation", PVLDB 7 (2014), doi:10.14778/2732951.2732953: at most four points a column,
 * error-free for two-colour lines.
 */
final class Columns {

    static final double GAP_PIXELS_MIN = 4;

    private static final int POINTS_PER_COLUMN_DENSE = 6;

    /** Further breaks within one pixel column can't be seen and are not drawn. */
    private static final int BREAKS_PER_COLUMN_MAX = 2;

    private final double fromMillis;
    private final double millisPerPixel;

    private double[] xs = new double[1024];
    private double[] ys = new double[1024];
    private int size;

    // The group of points that is being gathered.
    private int groupSize;
    private final double[] groupX = new double[4];
    private final double[] groupY = new double[4];
    private final long[] groupIndex = new long[4];

    // The mean of each column, for curves so dense that their extremes are a band.
    private double[] meanXs = new double[1024];
    private double[] meanYs = new double[1024];
    private int meanSize;
    private double groupSum;
    private long points;
    private long columnsSeen;

    // Where the last gap ends on the picture, and whether nothing was drawn since.
    private double notBeforeMillis = Double.NEGATIVE_INFINITY;
    private int pointsSinceBreak;

    private Columns(double fromMillis, double millisPerPixel) {
        this.fromMillis = fromMillis;
        this.millisPerPixel = millisPerPixel;
    }

    /**
     * Thins the part of a trace between two times, with one point more at either side so that the
     * line reaches both edges.
     *
     * @param widthPixels of the whole stretch
     */
    static Points thin(Trace trace, long fromMillis, long toMillis, int widthPixels) {
        return of(trace, fromMillis, toMillis, widthPixels).kept();
    }

    /** As {@link #thin}, with the columns' means too. */
    static Columns of(Trace trace, long fromMillis, long toMillis, int widthPixels) {
        double millisPerPixel = Math.max(1e-6, (toMillis - fromMillis) / (double) widthPixels);
        Columns columns = new Columns(fromMillis, millisPerPixel);
        int begin = Math.max(0, trace.firstAtOrAfter(fromMillis) - 1);
        int end = Math.min(trace.size(), trace.firstAtOrAfter(toMillis) + 1);
        columns.addAll(trace, begin, end);
        return columns;
    }

    Points kept() {
        return new Points(xs, ys, size);
    }

    /**
     * The mean of each pixel column, where a column has so many points that the kept ones draw a
     * band and not a line; empty otherwise.
     */
    Optional<Points> means() {
        return points > (long) POINTS_PER_COLUMN_DENSE * columnsSeen
                ? Optional.of(new Points(meanXs, meanYs, meanSize))
                : Optional.empty();
    }

    private void addAll(Trace trace, int begin, int end) {
        long column = Long.MIN_VALUE;
        int breaks = 0;
        for (int i = begin; i < end; i++) {
            double y = trace.value(i);
            double x = (double) trace.epochMillis(i);
            long itsColumn = (long) Math.floor((x - fromMillis) / millisPerPixel);
            if (itsColumn != column) {
                flush();
                columnsSeen++;
                column = itsColumn;
                breaks = 0;
            }
            boolean jump = i > begin && trace.gapBefore(i);
            if (jump || Double.isNaN(y)) {
                double gapFrom = i > begin ? (double) trace.epochMillis(i - 1) : x;
                if (breaks < BREAKS_PER_COLUMN_MAX) {
                    flush();
                    breakLine(gapFrom);
                    breaks++;
                }
            }
            if (!Double.isNaN(y)) {
                gather(i, x, y, trace.mean(i));
            }
        }
        flush();
        if (pointsSinceBreak == 1) {
            dash();
        }
    }

    private void gather(long index, double x, double y, double mean) {
        points++;
        groupSum += mean;
        if (groupSize == 0) {
            for (int slot = 0; slot < 4; slot++) {
                set(slot, index, x, y);
            }
        } else {
            set(3, index, x, y);
            if (y < groupY[1]) {
                set(1, index, x, y);
            }
            if (y > groupY[2]) {
                set(2, index, x, y);
            }
        }
        groupSize++;
    }

    private void set(int slot, long index, double x, double y) {
        groupIndex[slot] = index;
        groupX[slot] = x;
        groupY[slot] = y;
    }

    private void flush() {
        if (groupSize == 0) {
            return;
        }
        // Slots: first, lowest, highest, last. First and last are in place; order the two between.
        int early = groupIndex[1] <= groupIndex[2] ? 1 : 2;
        int late = 3 - early;
        emit(0);
        if (groupIndex[early] > groupIndex[0]) {
            emit(early);
        }
        if (groupIndex[late] > groupIndex[early] && groupIndex[late] < groupIndex[3]) {
            emit(late);
        }
        if (groupIndex[3] > groupIndex[0] && groupIndex[3] != groupIndex[early]) {
            emit(3);
        }
        addMean(Math.max(notBeforeMillis, (groupX[0] + groupX[3]) / 2), groupSum / groupSize);
        groupSize = 0;
        groupSum = 0;
    }

    private void addMean(double x, double y) {
        if (meanSize == meanXs.length) {
            meanXs = Arrays.copyOf(meanXs, 2 * meanSize);
            meanYs = Arrays.copyOf(meanYs, 2 * meanSize);
        }
        meanXs[meanSize] = x;
        meanYs[meanSize] = y;
        meanSize++;
    }

    private void emit(int slot) {
        append(Math.max(groupX[slot], notBeforeMillis), groupY[slot]);
        pointsSinceBreak++;
    }

    private void breakLine(double gapFromMillis) {
        if (size == 0) {
            return;
        }
        if (pointsSinceBreak == 1) {
            dash();
        }
        if (pointsSinceBreak > 0) {
            double endOfLine = Math.max(gapFromMillis, xs[size - 1]);
            append(endOfLine, Double.NaN);
            addMean(endOfLine, Double.NaN);
            notBeforeMillis = endOfLine + GAP_PIXELS_MIN * millisPerPixel;
            pointsSinceBreak = 0;
        }
    }

    private void dash() {
        append(xs[size - 1] + millisPerPixel, ys[size - 1]);
    }

    private void append(double x, double y) {
        if (size == xs.length) {
            xs = Arrays.copyOf(xs, 2 * size);
            ys = Arrays.copyOf(ys, 2 * size);
        }
        xs[size] = x;
        ys[size] = y;
        size++;
    }
}
