package io.evenwarm.monitor.evenness;

import java.util.OptionalDouble;

/**
 * How far what a probe reads can be from what is, in the unit of its readings: what of it does not
 * get smaller by reading longer.
 *
 * <p>Standard uncertainties after the GUM (JCGM 100:2008): of half widths within which nothing is
 * likelier than anything else {@code a/√3} (4.3.7), of a smallest step {@code r/√12} (F.2.2.1);
 * they are combined as the root of the sum of squares (5.1.2). An error that was found by a
 * comparison takes the place of the datasheet's class: then only its own uncertainty, and drift
 * since, are left.
 *
 * @param resolution smallest step, 0 or more
 * @param classHalfWidth the datasheet's limit of error ±, 0 or more
 * @param offset to add to what it reads: reference − probe
 * @param offsetUncertainty standard uncertainty of the offset; empty when it was never compared
 * @param driftHalfWidth how far it may have drifted since it was compared, ±, 0 or more
 */
public record ProbeQuality(
        double resolution,
        double classHalfWidth,
        double offset,
        OptionalDouble offsetUncertainty,
        double driftHalfWidth) {

    public ProbeQuality {
        requireLength("resolution", resolution);
        requireLength("class", classHalfWidth);
        requireLength("drift", driftHalfWidth);
        if (!Double.isFinite(offset)) {
            throw new IllegalArgumentException("offset must be finite but was " + offset);
        }
        offsetUncertainty.ifPresent(u -> requireLength("offset uncertainty", u));
    }

    private static void requireLength(String what, double value) {
        if (!(value >= 0 && value < Double.MAX_VALUE)) {
            throw new IllegalArgumentException(what + " must be 0 or more but was " + value);
        }
    }

    /** One that nobody compared with anything. */
    public static ProbeQuality uncompared(double resolution, double classHalfWidth) {
        return new ProbeQuality(resolution, classHalfWidth, 0, OptionalDouble.empty(), 0);
    }

    /**
     * Standard uncertainty of a mean of corrected readings, without that of averaging.
     *
     * @param scatter standard deviation of the readings
     */
    public double standardUncertainty(double scatter) {
        return Math.hypot(errorUncertainty(), stepUncertainty(scatter));
    }

    /**
     * A single reading, corrected, with the uncertainty of all that is in it: the offset's or else
     * the datasheet's class, drift, and the smallest step.
     */
    public Estimate reading(double raw) {
        return Estimate.systematic(raw + offset, standardUncertainty(0));
    }

    /** Of the probe's own error, the same in all its readings. */
    double errorUncertainty() {
        return Math.hypot(
                offsetUncertainty.orElse(rectangular(classHalfWidth)), rectangular(driftHalfWidth));
    }

    /** Whether all is equal but how long ago it was compared. */
    boolean isOfTheSameCheckAs(ProbeQuality other) {
        return equals(
                new ProbeQuality(
                        other.resolution,
                        other.classHalfWidth,
                        other.offset,
                        other.offsetUncertainty,
                        driftHalfWidth));
    }

    /** Standard uncertainty of what the same probe has drifted from one time to another. */
    double driftSince(ProbeQuality earlier) {
        return rectangular(Math.abs(driftHalfWidth - earlier.driftHalfWidth));
    }

    /**
     * Of the smallest step, in a mean of readings. A steady value has the whole of it. Readings
     * that move across steps of {@code q} round up as often as down: what is left in their mean
     * shrinks with {@code exp(−2π²σ²/q²)} (Widrow and Kollár, "Quantization noise", 2008, from
     * memory), and is nothing at a scatter of half a step.
     */
    double stepUncertainty(double scatter) {
        if (resolution == 0) {
            return 0;
        }
        double steps = scatter / resolution;
        return resolution / Math.sqrt(12) * Math.exp(-2 * square(Math.PI * steps));
    }

    static double rectangular(double halfWidth) {
        return halfWidth / Math.sqrt(3);
    }

    private static double square(double x) {
        return x * x;
    }
}
