package io.evenwarm.monitor.evenness;

import org.apache.commons.math3.distribution.TDistribution;

/**
 * A figure and how well it is known.
 *
 * @param value in the unit of the readings
 * @param standardUncertainty of the value, combined
 * @param degreesOfFreedom effective, by Welch and Satterthwaite (GUM, G.4.1); infinite where
 *     nothing was estimated from readings
 */
public record Estimate(double value, double standardUncertainty, double degreesOfFreedom) {

    /** Two-sided coverage of {@link #expanded}. */
    public static final double COVERAGE = 0.95;

    /** From here on Student's distribution is the normal one for our purposes. */
    private static final double MANY = 1e4;

    public Estimate {
        if (!Double.isFinite(value) || !(standardUncertainty >= 0) || !(degreesOfFreedom > 0)) {
            throw new IllegalArgumentException(
                    "no estimate: "
                            + value
                            + " ± "
                            + standardUncertainty
                            + ", "
                            + degreesOfFreedom);
        }
    }

    /** An exact figure with an uncertainty that no reading makes smaller. */
    static Estimate systematic(double value, double standardUncertainty) {
        return new Estimate(value, standardUncertainty, Double.POSITIVE_INFINITY);
    }

    /** {@code U = k u}: the true value is within ± this with a probability of 95 %. */
    public double expanded() {
        return coverageFactor() * standardUncertainty;
    }

    /** Student's t for 95 % two-sided (GUM, G.3 and table G.2). */
    public double coverageFactor() {
        double degrees = Math.min(MANY, Math.max(1, degreesOfFreedom));
        return new TDistribution(degrees).inverseCumulativeProbability((1 + COVERAGE) / 2);
    }

    public double low() {
        return value - expanded();
    }

    public double high() {
        return value + expanded();
    }

    /** Whether 0 is outside of the 95 % interval. */
    public boolean isBeyondZero() {
        return Math.abs(value) > expanded();
    }

    /** The same value, with something more that is not certain and independent of the rest. */
    Estimate with(Estimate other) {
        return combine(value, this, other);
    }

    Estimate plus(Estimate other) {
        return combine(value + other.value, this, other);
    }

    Estimate minus(Estimate other) {
        return combine(value - other.value, this, other);
    }

    /** Adds what readings don't make better. */
    Estimate withSystematic(double more) {
        return combine(value, this, systematic(0, more));
    }

    Estimate withValue(double other) {
        return new Estimate(other, standardUncertainty, degreesOfFreedom);
    }

    static Estimate combine(double value, Estimate... parts) {
        double sum = 0;
        double weighted = 0;
        for (Estimate part : parts) {
            double variance = part.standardUncertainty * part.standardUncertainty;
            sum += variance;
            weighted += variance * variance / part.degreesOfFreedom;
        }
        double degrees = weighted > 0 ? sum * sum / weighted : Double.POSITIVE_INFINITY;
        return new Estimate(value, Math.sqrt(sum), degrees);
    }
}
