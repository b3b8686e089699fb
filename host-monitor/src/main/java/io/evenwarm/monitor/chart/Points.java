package io.evenwarm.monitor.chart;

import java.util.Arrays;
import java.util.function.DoubleUnaryOperator;

/** What is left to draw of a curve. A NaN value is a gap. Immutable. */
final class Points {

    private final double[] times;
    private final double[] values;

    /** Copies the first {@code size} of each. */
    Points(double[] times, double[] values, int size) {
        this.times = Arrays.copyOf(times, size);
        this.values = Arrays.copyOf(values, size);
    }

    int size() {
        return times.length;
    }

    /** Milliseconds since the epoch. */
    double time(int index) {
        return times[index];
    }

    double value(int index) {
        return values[index];
    }

    Points map(DoubleUnaryOperator change) {
        return new Points(times, Arrays.stream(values).map(change).toArray(), values.length);
    }

    /** Index of the last point that has a value, or −1. */
    int lastKnown() {
        for (int i = values.length - 1; i >= 0; i--) {
            if (!Double.isNaN(values[i])) {
                return i;
            }
        }
        return -1;
    }

    /** The value of the last point that has one, or NaN. */
    double lastValue() {
        int last = lastKnown();
        return last < 0 ? Double.NaN : values[last];
    }

    /** Each value holds until the next; points that change nothing are left out. */
    Points steps() {
        double[] stepTimes = new double[2 * times.length];
        double[] stepValues = new double[2 * times.length];
        int size = 0;
        for (int i = 0; i < times.length; i++) {
            boolean first = size == 0;
            boolean last = i == times.length - 1;
            boolean changes = first || Double.compare(values[i], stepValues[size - 1]) != 0;
            if (changes && !first && !Double.isNaN(stepValues[size - 1])) {
                stepTimes[size] = Double.isNaN(values[i]) ? times[i - 1] : times[i];
                stepValues[size] = stepValues[size - 1];
                size++;
            }
            if (changes || last) {
                stepTimes[size] = times[i];
                stepValues[size] = values[i];
                size++;
            }
        }
        return new Points(stepTimes, stepValues, size);
    }

    /** As the plot library wants them. */
    double[][] table() {
        return new double[][] {times.clone(), values.clone()};
    }
}
