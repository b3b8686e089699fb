package io.evenwarm.monitor.evenness;

/**
 * The slow part of an evenly spaced series, which says how well its mean is known when neighbouring
 * samples depend on each other.
 *
 * <p>The series is projected on the first {@code ν} cosines that fit into it,
 *
 * <pre>
 *   Yⱼ = √(2/n) Σ xₜ cos(π j (t + ½) / n),      j = 1 … ν
 * </pre>
 *
 * <p>Each is orthogonal to the mean, and for any stationary series whose memory is short against
 * its length they are, in the limit, independent and normal with the long-run variance {@code S =
 * n·Var(mean)}. So {@code S = (1/ν) Σ Yⱼ²}, {@code u(mean) = √(S/n)}, and {@code (mean − µ)/u}
 * follows Student's distribution with ν degrees of freedom [1]. The effective number of samples is
 * {@code n s²/S}.
 *
 * <p>Why this and not a block bootstrap: both need a length within which neighbours may depend on
 * each other. A bootstrap's intervals are too narrow while a span holds few blocks, which is the
 * usual case here (a day of readings with a memory of half an hour or more), and it says nothing of
 * how well it knows its own width. A few cosines pay for that openly, by Student's factor: with
 * {@value #USUAL_DEGREES} of them 2.31 in place of 1.96. A slow trend ends up in S too, as it
 * should: the mean of a cabinet that still drifts is not well known.
 *
 * <p>[1] Lazarus, Lewis, Stock and Watson, "HAR inference: recommendations for practice", Journal
 * of Business &amp; Economic Statistics 36 (2018) 541-559, equal-weighted cosine estimator; Müller,
 * "HAC corrections for strongly autocorrelated time series", same journal 32 (2014). From memory of
 * both.
 */
final class SlowPart {

    /**
     * Few, so that the fastest cosine (period of a quarter of the span) is still slow against the
     * memory of a cabinet's air.
     */
    static final int USUAL_DEGREES = 8;

    private final int samples;
    private final double mean;
    private final double variance;
    private final double[] projections;

    private SlowPart(int samples, double mean, double variance, double[] projections) {
        this.samples = samples;
        this.mean = mean;
        this.variance = variance;
        this.projections = projections;
    }

    /** Of a series without holes, of four samples at least. */
    static SlowPart of(double[] series) {
        int n = series.length;
        if (n < 4) {
            throw new IllegalArgumentException("4 samples or more are needed but were " + n);
        }
        double mean = 0;
        for (double x : series) {
            mean += x / n;
        }
        double squares = 0;
        for (double x : series) {
            squares += (x - mean) * (x - mean);
        }
        int degrees = Math.max(2, Math.min(USUAL_DEGREES, n / 4));
        double[] projections = new double[degrees];
        for (int j = 1; j <= degrees; j++) {
            projections[j - 1] = projection(series, mean, j);
        }
        return new SlowPart(n, mean, squares / (n - 1), projections);
    }

    private static double projection(double[] series, double mean, int j) {
        // cos((t + 1/2)w) by its recurrence: one multiplication a sample, exact to 1e-12 at 1e5.
        int n = series.length;
        double step = Math.PI * j / n;
        double twice = 2 * Math.cos(step);
        double before = Math.cos(-step / 2);
        double now = before;
        double sum = 0;
        for (double x : series) {
            sum += (x - mean) * now;
            double next = twice * now - before;
            before = now;
            now = next;
        }
        return Math.sqrt(2.0 / n) * sum;
    }

    double mean() {
        return mean;
    }

    int samples() {
        return samples;
    }

    int degrees() {
        return projections.length;
    }

    double projection(int index) {
        return projections[index];
    }

    double longRunVariance() {
        double sum = 0;
        for (double y : projections) {
            sum += y * y;
        }
        return sum / projections.length;
    }

    Estimate meanEstimate() {
        return new Estimate(mean, Math.sqrt(longRunVariance() / samples), projections.length);
    }

    /** How many independent samples would say as much: at most as many as there are. */
    double effectiveSamples() {
        double s = longRunVariance();
        return s > 0 ? Math.max(1, Math.min(samples, samples * variance / s)) : samples;
    }
}
