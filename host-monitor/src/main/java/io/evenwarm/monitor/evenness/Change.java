package io.evenwarm.monitor.evenness;

import java.util.Optional;

/**
 * The change of a mean between two series whose neighbouring samples depend on each other, with a
 * 95 % interval.
 *
 * <p>The difference of two means of {@link SlowPart}s, with their variances added and the degrees
 * of freedom by Welch and Satterthwaite.
 *
 * <p>Correction: what parts the air of a cabinet is the heat that goes through it, and that is what
 * goes through the walls, in proportion to how much warmer it is inside than in the room; the
 * heater's duty follows the same heat. Two surveys in unlike rooms are brought to the first one's
 * by {@code change − β (D₂ − D₁)}. The slope β comes from how figure and D move together within
 * both surveys, by least squares on their slow parts (analysis of covariance; on cosines, so that
 * dependent samples are not counted as independent ones: Müller and Watson, "Low-frequency
 * econometrics", 2017, from memory). Where they move too little for that, β is what proportion asks
 * for, {@code q₁/D₁}, give or take all of it, rectangular.
 */
final class Change {

    /** A smaller difference to the room says nothing of proportion. */
    private static final double WARMING_KELVIN_MIN = 2;

    private static final double DUTY_MIN = 0.02;

    private final SlowPart before;
    private final SlowPart after;

    Change(SlowPart before, SlowPart after) {
        this.before = before;
        this.after = after;
    }

    /** Without correction. */
    Estimate plain() {
        return after.meanEstimate().minus(before.meanEstimate());
    }

    /**
     * What both depend on.
     *
     * @param before D of the first survey
     * @param after D of the second
     */
    record Cause(FigureChange.Correction.By by, SlowPart before, SlowPart after) {}

    /** What was added, and what came of it. */
    record Corrected(Estimate change, FigureChange.Correction correction) {}

    Optional<Corrected> corrected(Cause cause) {
        double least = cause.by == FigureChange.Correction.By.DUTY ? DUTY_MIN : WARMING_KELVIN_MIN;
        if (cause.before.mean() < least || cause.after.mean() < least) {
            return Optional.empty();
        }
        double moved = cause.after.mean() - cause.before.mean();
        double squares = squares(cause.before) + squares(cause.after);
        int degrees = before.degrees() + after.degrees() - 1;
        double slope =
                (products(before, cause.before) + products(after, cause.after))
                        / Math.max(squares, Double.MIN_NORMAL);
        double left = residual(before, cause.before, slope) + residual(after, cause.after, slope);
        double ofSlope = Math.sqrt(left / degrees / Math.max(squares, Double.MIN_NORMAL));
        double proportion = before.mean() / cause.before.mean();
        double ofProportion = ProbeQuality.rectangular(Math.abs(proportion));
        boolean isMeasured = ofSlope < ofProportion;
        double taken = isMeasured ? slope : proportion;
        Estimate slopeEstimate =
                isMeasured
                        ? new Estimate(0, Math.abs(moved) * ofSlope, degrees)
                        : Estimate.systematic(0, Math.abs(moved) * ofProportion);
        double amount = -taken * moved;
        Estimate change =
                Estimate.combine(
                        after.mean() - before.mean() + amount,
                        left(before, cause.before, taken, isMeasured),
                        left(after, cause.after, taken, isMeasured),
                        slopeEstimate);
        return Optional.of(
                new Corrected(
                        change, new FigureChange.Correction(cause.by, moved, amount, isMeasured)));
    }

    private static double squares(SlowPart of) {
        double sum = 0;
        for (int j = 0; j < of.degrees(); j++) {
            sum += of.projection(j) * of.projection(j);
        }
        return sum;
    }

    private static double products(SlowPart one, SlowPart other) {
        double sum = 0;
        for (int j = 0; j < one.degrees(); j++) {
            sum += one.projection(j) * other.projection(j);
        }
        return sum;
    }

    private static double residual(SlowPart figure, SlowPart cause, double slope) {
        double sum = 0;
        for (int j = 0; j < figure.degrees(); j++) {
            double left = figure.projection(j) - slope * cause.projection(j);
            sum += left * left;
        }
        return sum;
    }

    /** How well a mean is known once what D explains is taken out; a slope costs both half. */
    private static Estimate left(SlowPart figure, SlowPart cause, double slope, boolean isFitted) {
        double degrees = figure.degrees() - (isFitted ? 0.5 : 0);
        double variance = residual(figure, cause, slope) / degrees;
        return new Estimate(0, Math.sqrt(variance / figure.samples()), degrees);
    }
}
