package io.evenwarm.monitor.evenness;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;

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

    /** One point less the mean of all. */
    static Combination departureFromMean(FigureSeries of, int point) {
        double[] weights = new double[of.points().size()];
        Arrays.fill(weights, -1.0 / weights.length);
        weights[point] += 1;
        return new Combination(of, of.sum(weights), weights);
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
        double squares = then.own() + now.own();
        for (SurveyPoint point : now.probes()) {
            Optional<SurveyPoint> before = then.same(point);
            double change = now.weightOf(point) - before.map(then::weightOf).orElse(0.0);
            squares += square(change * point.quality().errorUncertainty());
        }
        for (SurveyPoint point : then.probes()) {
            double uncertainty =
                    now.same(point)
                            .map(after -> after.quality().driftSince(point.quality()))
                            .orElse(point.quality().errorUncertainty());
            squares += square(then.weightOf(point) * uncertainty);
        }
        return Math.sqrt(squares);
    }

    /** Variance of what belongs to this survey alone. */
    private double own() {
        double squares = 0;
        for (int i = 0; i < weights.length; i++) {
            squares += square(weights[i] * of.ownUncertainty(i));
        }
        return squares;
    }

    /** A point of each probe. */
    private List<SurveyPoint> probes() {
        return IntStream.range(0, weights.length)
                .filter(of::isFirstOfItsProbe)
                .mapToObj(i -> of.points().get(i))
                .toList();
    }

    /** The same probe here, where it is here and was not compared anew. */
    private Optional<SurveyPoint> same(SurveyPoint point) {
        return probes().stream().filter(here -> isSame(here, point)).findFirst();
    }

    /** Of its probe, at all places. */
    private double weightOf(SurveyPoint point) {
        return of.weightOfProbe(weights, point.probe());
    }

    private static boolean isSame(SurveyPoint one, SurveyPoint other) {
        return one.probe().equals(other.probe())
                && one.quality().isOfTheSameCheckAs(other.quality());
    }

    private static double square(double x) {
        return x * x;
    }
}
