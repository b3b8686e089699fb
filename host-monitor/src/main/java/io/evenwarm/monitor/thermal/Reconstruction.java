package io.evenwarm.monitor.thermal;

import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.linear.RealMatrix;
import org.apache.commons.math3.linear.RealVector;

/**
 * What the air and the eggs are taken to have had from the begin of a gap on, minute by minute: a
 * reconstruction, of which nothing was measured. Immutable.
 */
public final class Reconstruction {

    private final long beginMillis;
    private final Followed most;
    private final Followed[] slopes;
    private final RealMatrix covariance;
    private final double colderKelvin;
    private final double warmerKelvin;
    private final double ownKelvin;
    private final After after;

    /** How the readings after a gap go with no heat in it. */
    public enum After {
        /** They fit, within what is known of cabinet and room. */
        AS_WITHOUT_HEAT,
        /** They fit, at the warm end of what is known: a little heat can't be told from that. */
        RATHER_WARM,
        /** Warmer: there may have been heat. */
        WARMER,
        /** Colder: something took heat away, such as an open door. */
        COLDER
    }

    /** What followed from one choice of constants; arrays that nobody changes any more. */
    static final class Followed {

        /** Mean of the air. */
        final double[] air;

        /** Mean of the eggs. */
        final double[] eggs;

        /** How far apart the shelves' eggs were, over what they were at the begin. */
        final double[] share;

        Followed(double[] air, double[] eggs, double[] share) {
            this.air = air;
            this.eggs = eggs;
            this.share = share;
        }
    }

    /**
     * @param slopes of all that by each coordinate
     * @param ownKelvin what no coordinate stands for
     */
    Reconstruction(
            long beginMillis,
            Followed most,
            Followed[] slopes,
            RealMatrix covariance,
            double colderKelvin,
            double warmerKelvin,
            double ownKelvin,
            After after) {
        this.beginMillis = beginMillis;
        this.most = most;
        this.slopes = slopes.clone();
        this.covariance = covariance;
        this.colderKelvin = colderKelvin;
        this.warmerKelvin = warmerKelvin;
        this.ownKelvin = ownKelvin;
        this.after = after;
    }

    /** How the readings after the gap go with it. */
    public After after() {
        return after;
    }

    /** The eggs on the coldest shelf. */
    public EggCurve coldest() {
        return eggs(-colderKelvin);
    }

    /** The eggs on the warmest shelf. */
    public EggCurve warmest() {
        return eggs(warmerKelvin);
    }

    /**
     * The eggs at a place.
     *
     * @param offsetKelvin by how much its air was above the mean before the gap, K
     */
    public EggCurve eggs(double offsetKelvin) {
        return curve(most.eggs, most.share, slope -> slope.eggs, offsetKelvin);
    }

    /** The mean of the cabinet's air. */
    public EggCurve air() {
        return curve(most.air, most.share, slope -> slope.air, 0);
    }

    private interface Part {
        double[] of(Followed followed);
    }

    private EggCurve curve(double[] values, double[] share, Part part, double offset) {
        int size = values.length;
        double[] celsius = new double[size];
        double[] plusMinus = new double[size];
        for (int k = 0; k < size; k++) {
            celsius[k] = values[k] + offset * share[k];
            double[] slope = new double[slopes.length];
            for (int i = 0; i < slope.length; i++) {
                slope[i] = part.of(slopes[i])[k] + offset * slopes[i].share[k];
            }
            RealVector by = new ArrayRealVector(slope, false);
            double variance = by.dotProduct(covariance.operate(by));
            plusMinus[k] = GapReview.BAND * Math.sqrt(variance + ownKelvin * ownKelvin);
        }
        return new EggCurve(beginMillis, celsius, plusMinus);
    }
}
