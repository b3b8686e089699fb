package io.evenwarm.monitor.chart;

import io.evenwarm.monitor.history.Curve;
import java.util.Arrays;

/**
 * A quantity over time for a chart: stored history, then the live tail that history does not hold
 * yet. Kept apart so that a million stored points are not copied for each new live one. Immutable.
 */
public final class Trace {

    /** Readings further apart than this are never joined, however rare the others are. */
    private static final long GAP_MILLIS_MIN = 30_000;

    /** A missed reading or two is not a gap. */
    private static final int INTERVALS_PER_GAP = 4;

    private static final int INTERVALS_LOOKED_AT_MAX = 501;

    private final Curve stored;
    private final Curve tail;
    private final long storedGapMillis;
    private final long tailGapMillis;
    private final int tailBegin;

    private Trace(Curve stored, Curve tail, long storedGapMillis, long tailGapMillis) {
        this.stored = stored;
        this.tail = tail;
        this.storedGapMillis = storedGapMillis;
        this.tailGapMillis = tailGapMillis;
        this.tailBegin =
                stored.size() == 0 ? 0 : firstAfter(tail, stored.epochMillis(stored.size() - 1));
    }

    public static Trace empty() {
        return new Trace(Curve.empty(), Curve.empty(), GAP_MILLIS_MIN, GAP_MILLIS_MIN);
    }

    /** Stored points only. */
    public static Trace of(Curve stored) {
        return of(stored, Curve.empty(), GAP_MILLIS_MIN, GAP_MILLIS_MIN);
    }

    /**
     * Stored points, continued by those of the tail that are newer.
     *
     * @param storedGapMillis stored points nearer than this are joined, however often the others
     *     come
     * @param tailGapMillis points of the tail further apart than this are not joined
     */
    public static Trace of(Curve stored, Curve tail, long storedGapMillis, long tailGapMillis) {
        long storedGap =
                Math.max(
                        Math.max(GAP_MILLIS_MIN, storedGapMillis),
                        INTERVALS_PER_GAP * usualIntervalMillis(stored));
        return new Trace(stored, tail, storedGap, Math.max(GAP_MILLIS_MIN, tailGapMillis));
    }

    public int size() {
        return stored.size() + tail.size() - tailBegin;
    }

    long epochMillis(int index) {
        return index < stored.size()
                ? stored.epochMillis(index)
                : tail.epochMillis(index - stored.size() + tailBegin);
    }

    double value(int index) {
        return index < stored.size()
                ? stored.value(index)
                : tail.value(index - stored.size() + tailBegin);
    }

    /** Mean of the readings that a point stands for. */
    double mean(int index) {
        return index < stored.size()
                ? stored.mean(index)
                : tail.mean(index - stored.size() + tailBegin);
    }

    /** Whether the time between a point and the one before it is too long to draw across. */
    boolean gapBefore(int index) {
        if (index == 0) {
            return true;
        }
        long gapMillis =
                index < stored.size()
                        ? storedGapMillis
                        : index == stored.size()
                                ? Math.max(storedGapMillis, tailGapMillis)
                                : tailGapMillis;
        return epochMillis(index) - epochMillis(index - 1) > gapMillis;
    }

    /** Index of the first point at or after a time, or {@link #size}. */
    int firstAtOrAfter(long epochMillis) {
        int low = 0;
        int high = size();
        while (low < high) {
            int middle = (low + high) >>> 1;
            if (epochMillis(middle) < epochMillis) {
                low = middle + 1;
            } else {
                high = middle;
            }
        }
        return low;
    }

    /**
     * The value that was last known at a time, or NaN when there was none or it was already too
     * old.
     */
    public double valueAt(long epochMillis) {
        int next = firstAtOrAfter(epochMillis + 1);
        if (next == 0) {
            return Double.NaN;
        }
        boolean tooOld =
                next < size()
                        ? gapBefore(next)
                        : epochMillis - epochMillis(next - 1)
                                > Math.max(storedGapMillis, tailGapMillis);
        return tooOld ? Double.NaN : value(next - 1);
    }

    /** Whether any point lies between two times, the first included. */
    public boolean hasPointBetween(long fromMillis, long toMillis) {
        int index = firstAtOrAfter(fromMillis);
        return index < size() && epochMillis(index) < toMillis;
    }

    private static int firstAfter(Curve curve, long epochMillis) {
        int low = 0;
        int high = curve.size();
        while (low < high) {
            int middle = (low + high) >>> 1;
            if (curve.epochMillis(middle) <= epochMillis) {
                low = middle + 1;
            } else {
                high = middle;
            }
        }
        return low;
    }

    /** The median of some of the intervals: gaps are few and do not move it. */
    private static long usualIntervalMillis(Curve curve) {
        int intervals = curve.size() - 1;
        if (intervals < 1) {
            return 0;
        }
        int looked = Math.min(intervals, INTERVALS_LOOKED_AT_MAX);
        long[] lengths = new long[looked];
        for (int i = 0; i < looked; i++) {
            int at = (int) ((long) i * intervals / looked);
            lengths[i] = curve.epochMillis(at + 1) - curve.epochMillis(at);
        }
        Arrays.sort(lengths);
        return lengths[looked / 2];
    }
}
