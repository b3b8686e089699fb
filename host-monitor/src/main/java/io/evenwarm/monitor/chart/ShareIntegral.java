package io.evenwarm.monitor.chart;

/**
 * How long something was on up to any moment, so that its share over any stretch is one
 * subtraction.
 *
 * <p>A point's value counts for the time since the point before it. Over gaps nothing is known, and
 * the share is that of the known time.
 */
final class ShareIntegral {

    private final double[] times;
    private final double[] onMillis;
    private final double[] knownMillis;

    ShareIntegral(Trace trace, long fromMillis, long toMillis) {
        int begin = Math.max(0, trace.firstAtOrAfter(fromMillis) - 1);
        int end = Math.min(trace.size(), trace.firstAtOrAfter(toMillis) + 1);
        int count = Math.max(0, end - begin);
        times = new double[count];
        onMillis = new double[count];
        knownMillis = new double[count];
        for (int i = 0; i < count; i++) {
            times[i] = (double) trace.epochMillis(begin + i);
            double value = trace.value(begin + i);
            if (i > 0) {
                boolean known = !trace.gapBefore(begin + i) && !Double.isNaN(value);
                double length = known ? times[i] - times[i - 1] : 0;
                knownMillis[i] = knownMillis[i - 1] + length;
                onMillis[i] = onMillis[i - 1] + (known ? length * value : 0);
            }
        }
    }

    /** The share between two times, 0 to 1, or NaN when nothing is known of that stretch. */
    double between(double fromMillis, double toMillis) {
        double known = at(knownMillis, toMillis) - at(knownMillis, fromMillis);
        if (known <= 0) {
            return Double.NaN;
        }
        double on = at(onMillis, toMillis) - at(onMillis, fromMillis);
        return Math.max(0, Math.min(1, on / known));
    }

    private double at(double[] sums, double time) {
        int count = times.length;
        if (count == 0 || time <= times[0]) {
            return 0;
        }
        if (time >= times[count - 1]) {
            return sums[count - 1];
        }
        int low = 0;
        int high = count - 1;
        while (high - low > 1) {
            int middle = (low + high) >>> 1;
            if (times[middle] <= time) {
                low = middle;
            } else {
                high = middle;
            }
        }
        double part = (time - times[low]) / (times[high] - times[low]);
        return sums[low] + part * (sums[high] - sums[low]);
    }
}
