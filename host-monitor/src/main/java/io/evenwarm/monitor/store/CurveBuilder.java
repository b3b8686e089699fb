package io.evenwarm.monitor.store;

import io.evenwarm.monitor.history.Curve;
import java.util.Arrays;

/** Collects points oldest first and makes a curve whose holes are marked. */
final class CurveBuilder {

    private long[] times = new long[1024];
    private double[] values = new double[1024];
    private int size;

    /**
     * Adds a point.
     *
     * @param value NaN for a bad reading
     */
    void add(long epochMillis, double value) {
        if (size == times.length) {
            times = Arrays.copyOf(times, size * 2);
            values = Arrays.copyOf(values, size * 2);
        }
        times[size] = epochMillis;
        values[size++] = value;
    }

    boolean isEmpty() {
        return size == 0;
    }

    Curve build() {
        int[] holes = Holes.after(times, size);
        if (holes.length == 0) {
            return Curve.of(times, values, size);
        }
        long[] timesOut = new long[size + holes.length];
        double[] valuesOut = new double[size + holes.length];
        int from = 0;
        int out = 0;
        for (int hole : holes) {
            int length = hole + 1 - from;
            System.arraycopy(times, from, timesOut, out, length);
            System.arraycopy(values, from, valuesOut, out, length);
            out += length;
            from += length;
            timesOut[out] = times[hole] + 1;
            valuesOut[out++] = Double.NaN;
        }
        System.arraycopy(times, from, timesOut, out, size - from);
        System.arraycopy(values, from, valuesOut, out, size - from);
        return Curve.of(timesOut, valuesOut, timesOut.length);
    }
}
