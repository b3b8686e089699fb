package io.evenwarm.monitor.evenness;

import java.util.Arrays;
import org.apache.commons.math3.distribution.NormalDistribution;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.linear.LUDecomposition;

/**
 * How many values a one-sided CUSUM takes on average until it calls (its average run length), for
 * independent normal values of variance 1.
 *
 * <p>The sum {@code S ← max(0, S + min(z, cap) − k)} is treated as a Markov chain on a grid of the
 * continuation range [1]; the run lengths from all its states solve a linear system. Without a cap
 * it gives the published values (see the test). A cap makes one wild value harmless: the robust
 * CUSUM of [2], by winsorising.
 *
 * <p>[1] Brook and Evans, "An approach to the probability distribution of CUSUM run length",
 * Biometrika 59 (1972) 539-549. [2] Lucas and Crosier, "Robust CUSUM", Communications in Statistics
 * 11 (1982); from memory.
 */
final class CusumRunLength {

    private static final int STATES = 200;

    /** Longer ones are beyond what the linear system can tell from never. */
    private static final double AVERAGE_MAX = 1e8;

    private static final NormalDistribution NORMAL = new NormalDistribution(null, 0, 1);

    private final double reference;
    private final double cap;

    /**
     * @param reference k, in standard deviations: half the shift that is to be found fastest
     * @param cap values count for no more than this; infinite for none
     */
    CusumRunLength(double reference, double cap) {
        this.reference = reference;
        this.cap = cap;
    }

    /**
     * Average run length from S = 0.
     *
     * @param interval h, above 0: called at S ≥ h
     * @param shift mean of the values
     */
    double average(double interval, double shift) {
        double width = 2 * interval / (2 * STATES - 1);
        double[][] stay = new double[STATES][STATES];
        for (int i = 0; i < STATES; i++) {
            double below = 0;
            for (int j = 0; j < STATES; j++) {
                double upTo = atMost((j - i + 0.5) * width + reference, shift);
                stay[i][j] = (i == j ? 1 : 0) - (upTo - below);
                below = upTo;
            }
        }
        double[] ones = new double[STATES];
        Arrays.fill(ones, 1);
        return new LUDecomposition(new Array2DRowRealMatrix(stay, false))
                .getSolver()
                .solve(new ArrayRealVector(ones, false))
                .getEntry(0);
    }

    /** Probability that a capped value is not above {@code x}. */
    private double atMost(double x, double shift) {
        return x >= cap ? 1 : NORMAL.cumulativeProbability(x - shift);
    }

    /** The interval h with which a chart without a shift calls once in so many values. */
    double interval(double wantedAverage) {
        if (!(wantedAverage > 1 && wantedAverage <= AVERAGE_MAX)) {
            throw new IllegalArgumentException(
                    "a run length must be above 1 and at most "
                            + AVERAGE_MAX
                            + " but was "
                            + wantedAverage);
        }
        double low = 0;
        double high = 0.5;
        while (average(high, 0) < wantedAverage) {
            low = high;
            high *= 1.3;
        }
        for (int i = 0; i < 20; i++) {
            double middle = (low + high) / 2;
            if (average(middle, 0) > wantedAverage) {
                high = middle;
            } else {
                low = middle;
            }
        }
        return high;
    }
}
