package io.evenwarm.monitor.thermal;

import org.apache.commons.math3.linear.CholeskyDecomposition;
import org.apache.commons.math3.linear.RealMatrix;

/** How well the fitted constants are known, in the fit's own coordinates. Immutable. */
public final class Uncertainty {

    private final double[] at;
    private final RealMatrix covariance;

    Uncertainty(double[] at, RealMatrix covariance) {
        this.at = at.clone();
        this.covariance = covariance.copy();
    }

    double[] at() {
        return at.clone();
    }

    double deviation(int of) {
        return Math.sqrt(covariance.getEntry(of, of));
    }

    double covariance(int of, int with) {
        return covariance.getEntry(of, with);
    }

    /** A lower triangle that gives the covariance when it is multiplied by itself turned over. */
    RealMatrix root() {
        return new CholeskyDecomposition(covariance, 1e-8, 1e-12).getL();
    }
}
