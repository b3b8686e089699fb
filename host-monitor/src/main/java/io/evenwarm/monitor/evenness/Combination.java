package io.evenwarm.monitor.evenness;

import java.util.List;

/** A figure as a weighed sum of points, with its sign so that its mean is not negative. */
final class Combination {

    private final FigureSeries of;
    private final double[] series;
    private final double[] weights;

    /**
     * @param series of the figure
     * @param weights by point
     */
    Combination(FigureSeries of, double[] series, double[] weights) {
        double sum = 0;
        for (double x : series) {
            sum += x;
        }
        double sign = sum >= 0 ? 1 : -1;
        this.of = of;
        this.series = scaled(series, sign);
        this.weights = scaled(weights, sign);
    }

    /** One point less another. */
    static Combination pair(FigureSeries of, int one, int other) {
        double[] weights = new double[of.points().size()];
        weights[one] += 1;
        weights[other] -= 1;
        return new Combination(of, of.difference(one, other), weights);
    }

    /** One point less a constant. */
    static Combination departure(FigureSeries of, int point, double from) {
        double[] weights = new double[of.points().size()];
        weights[point] = 1;
        double[] series = of.of(point).clone();
        for (int t = 0; t < series.length; t++) {
            series[t] -= from;
        }
        return new Combination(of, series, weights);
    }

    private static double[] scaled(double[] values, double by) {
        double[] scaled = values.clone();
        for (int i = 0; i < scaled.length; i++) {
            scaled[i] *= by;
        }
        return scaled;
    }

    SlowPart slowPart() {
        return SlowPart.of(series);
    }

    /**
     * Standard uncertainty of the change from one to the other that comes from the probes
     * themselves: the errors of those that count in both cancel, but for what they may have drifted
     * in between.
     */
    static double ofProbes(Combination then, Combination now) {
        double squares = 0;
        List<SurveyPoint> points = now.of.points();
        for (int i = 0; i < points.size(); i++) {
            SurveyPoint point = points.get(i);
            double change = now.weights[i] - then.weightOf(point);
            squares += square(change * point.quality().errorUncertainty());
            squares += square(now.weights[i] * now.of.stepUncertainty(i));
        }
        for (int i = 0; i < then.weights.length; i++) {
            SurveyPoint point = then.of.points().get(i);
            double weight = then.weights[i];
            squares +=
                    points.stream()
                            .filter(other -> isSame(other, point))
                            .mapToDouble(
                                    other -> weight * other.quality().driftSince(point.quality()))
                            .map(Combination::square)
                            .findFirst()
                            .orElse(square(weight * point.quality().errorUncertainty()));
            squares += square(then.weights[i] * then.of.stepUncertainty(i));
        }
        return Math.sqrt(squares);
    }

    private double weightOf(SurveyPoint point) {
        for (int i = 0; i < weights.length; i++) {
            if (isSame(of.points().get(i), point)) {
                return weights[i];
            }
        }
        return 0;
    }

    private static boolean isSame(SurveyPoint one, SurveyPoint other) {
        return one.probe().equals(other.probe())
                && one.quality().isOfTheSameCheckAs(other.quality());
    }

    private static double square(double x) {
        return x * x;
    }
}
