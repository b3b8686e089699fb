package io.evenwarm.monitor.store;

import java.util.Objects;

/**
 * Readings of one stretch, summed up. The sum is of whole millionths: it comes out the same in
 * whatever order readings are added, and what was added can be taken away again. A degree's
 * millionth is a fraction of what any probe resolves.
 *
 * <p>Changed under the writer's lock only.
 */
final class Bucket {

    static final double PER_UNIT = 1e6;

    private double least = Double.POSITIVE_INFINITY;
    private double greatest = Double.NEGATIVE_INFINITY;
    private long sumMillionths;
    private long count;
    private long badCount;

    Bucket() {}

    /** {@code least} and {@code greatest} mean something with a count only. */
    Bucket(double least, double greatest, long sumMillionths, long count, long badCount) {
        if (count > 0) {
            this.least = least;
            this.greatest = greatest;
        }
        this.sumMillionths = sumMillionths;
        this.count = count;
        this.badCount = badCount;
    }

    void add(double value) {
        least = Math.min(least, value);
        greatest = Math.max(greatest, value);
        // As the schema's step 2 has it in SQL: both must round alike.
        sumMillionths += (long) Math.floor(value * PER_UNIT + 0.5);
        count++;
    }

    void addBad() {
        badCount++;
    }

    void add(Bucket other) {
        least = Math.min(least, other.least);
        greatest = Math.max(greatest, other.greatest);
        sumMillionths += other.sumMillionths;
        count += other.count;
        badCount += other.badCount;
    }

    /**
     * What is left when readings are gone that were part of this. The extremes stay as they are:
     * which readings they came from is not known here.
     */
    Bucket minus(Bucket gone) {
        return new Bucket(
                least,
                greatest,
                sumMillionths - gone.sumMillionths,
                count - gone.count,
                badCount - gone.badCount);
    }

    boolean isEmpty() {
        return count == 0 && badCount == 0;
    }

    boolean hasCountsOf(Bucket other) {
        return count == other.count && badCount == other.badCount;
    }

    double least() {
        return least;
    }

    double greatest() {
        return greatest;
    }

    long sumMillionths() {
        return sumMillionths;
    }

    long count() {
        return count;
    }

    long badCount() {
        return badCount;
    }

    @Override
    public boolean equals(Object other) {
        return other instanceof Bucket that
                && least == that.least
                && greatest == that.greatest
                && sumMillionths == that.sumMillionths
                && hasCountsOf(that);
    }

    @Override
    public int hashCode() {
        return Objects.hash(least, greatest, sumMillionths, count, badCount);
    }

    @Override
    public String toString() {
        String bad = badCount + " bad";
        return count == 0
                ? bad
                : least
                        + " to "
                        + greatest
                        + ", sum "
                        + sumMillionths / PER_UNIT
                        + " of "
                        + count
                        + ", "
                        + bad;
    }
}
