package io.evenwarm.monitor.evenness;

/**
 * A one-sided CUSUM chart that calls a mean which has risen: {@code S ← max(0, S + min(z, cap) −
 * k)}, called while S is at the interval h or above. {@link CusumRunLength} says how often it calls
 * without a cause. Not bounded from below by anything but 0; held at 2 h from above, so that it
 * comes back when the cause has gone.
 */
final class Cusum {

    private final double reference;
    private final double cap;
    private final double interval;
    private double sum;

    /**
     * @param reference k, above 0, in standard deviations
     * @param cap what a single value counts for at most, above k
     * @param interval h, above 0
     */
    Cusum(double reference, double cap, double interval) {
        if (!(reference > 0 && cap > reference && interval > 0)) {
            throw new IllegalArgumentException(
                    "0 < k < cap and 0 < h are needed but were "
                            + reference
                            + ", "
                            + cap
                            + " and "
                            + interval);
        }
        this.reference = reference;
        this.cap = cap;
        this.interval = interval;
    }

    /**
     * Takes the next value, in standard deviations from the mean.
     *
     * @return whether the chart calls
     */
    boolean add(double z) {
        sum = Math.min(2 * interval, Math.max(0, sum + Math.min(z, cap) - reference));
        return isCalling();
    }

    boolean isCalling() {
        return sum >= interval;
    }

    double sum() {
        return sum;
    }
}
