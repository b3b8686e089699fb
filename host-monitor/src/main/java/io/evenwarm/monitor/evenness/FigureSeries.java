package io.evenwarm.monitor.evenness;

import java.util.List;
import java.util.Optional;

/** Every point's corrected values in the settled part, cell by cell, without holes. Immutable. */
public final class FigureSeries {

    private final List<SurveyPoint> points;
    private final double[][] values;
    private final double[] scatters;
    private final double[] added;
    private final SlowPart[] stays;
    private final double[] medians;
    private final List<int[]> halfHours;

    /**
     * @param points what was measured
     * @param values of each, cell by cell
     * @param scatters standard deviation of each one's readings
     * @param added standard uncertainty of each one's mean for not having been measured all the
     *     time
     * @param stays of each that was not: its difference to the reference while it was
     * @param halfHours the whole ones: first cell, and the one after the last
     */
    FigureSeries(
            List<SurveyPoint> points,
            double[][] values,
            double[] scatters,
            double[] added,
            SlowPart[] stays,
            List<int[]> halfHours) {
        this.points = List.copyOf(points);
        this.values = values;
        this.scatters = scatters;
        this.added = added;
        this.stays = stays;
        this.halfHours = List.copyOf(halfHours);
        medians = medians(values);
    }

    List<SurveyPoint> points() {
        return points;
    }

    double[] of(int point) {
        return values[point];
    }

    int size() {
        return values[0].length;
    }

    /**
     * Standard uncertainty of a point's mean that comes from its probe, and from not having been
     * measured all the time.
     */
    double probeUncertainty(int point) {
        return Math.hypot(points.get(point).quality().errorUncertainty(), ownUncertainty(point));
    }

    /** The part of it that neither another place nor a second survey with the same probe shares. */
    double ownUncertainty(int point) {
        return Math.hypot(
                points.get(point).quality().stepUncertainty(scatters[point]), added[point]);
    }

    /** The same of two points' difference: the error of a probe that stood at both drops out. */
    double differenceUncertainty(int one, int other) {
        double[] weights = new double[points.size()];
        weights[one] += 1;
        weights[other] -= 1;
        return uncertainty(weights);
    }

    /** The same of a weighed sum. */
    private double uncertainty(double[] weights) {
        double squares = 0;
        for (int i = 0; i < weights.length; i++) {
            squares += square(weights[i] * ownUncertainty(i));
            if (isFirstOfItsProbe(i)) {
                squares +=
                        square(
                                weightOfProbe(weights, points.get(i).probe())
                                        * points.get(i).quality().errorUncertainty());
            }
        }
        return Math.sqrt(squares);
    }

    /** Whether no point before is of the same probe. */
    boolean isFirstOfItsProbe(int point) {
        for (int i = 0; i < point; i++) {
            if (points.get(i).probe().equals(points.get(point).probe())) {
                return false;
            }
        }
        return true;
    }

    /** What all points of a probe weigh together. */
    double weightOfProbe(double[] weights, String probe) {
        double weight = 0;
        for (int i = 0; i < weights.length; i++) {
            weight += points.get(i).probe().equals(probe) ? weights[i] : 0;
        }
        return weight;
    }

    private static double square(double x) {
        return x * x;
    }

    /**
     * How many independent readings a point's are worth.
     *
     * @param whole of its series
     */
    double independentSamples(int point, SlowPart whole) {
        return points.get(point).isMoved()
                ? stays[point].effectiveSamples()
                : whole.effectiveSamples();
    }

    double[] difference(int one, int other) {
        double[] difference = new double[size()];
        for (int t = 0; t < difference.length; t++) {
            difference[t] = values[one][t] - values[other][t];
        }
        return difference;
    }

    /** A point's difference to the median of all points, which one odd point does not move. */
    double[] differenceToMedian(int point) {
        double[] difference = new double[size()];
        for (int t = 0; t < difference.length; t++) {
            difference[t] = values[point][t] - medians[t];
        }
        return difference;
    }

    private static double[] medians(double[][] values) {
        double[] medians = new double[values[0].length];
        double[] here = new double[values.length];
        for (int t = 0; t < medians.length; t++) {
            for (int i = 0; i < here.length; i++) {
                here[i] = values[i][t];
            }
            medians[t] = Cells.median(here, here.length);
        }
        return medians;
    }

    /** What each point weighs in top minus bottom; empty where one of the two is missing. */
    Optional<double[]> topMinusBottomWeights() {
        int tops = 0;
        int bottoms = 0;
        for (SurveyPoint point : points) {
            tops += point.position().isTop() ? 1 : 0;
            bottoms += point.position().isBottom() ? 1 : 0;
        }
        if (tops == 0 || bottoms == 0) {
            return Optional.empty();
        }
        double[] weights = new double[points.size()];
        for (int i = 0; i < weights.length; i++) {
            Position position = points.get(i).position();
            weights[i] = position.isTop() ? 1.0 / tops : position.isBottom() ? -1.0 / bottoms : 0;
        }
        return Optional.of(weights);
    }

    /** A weighed sum of all points, cell by cell. */
    double[] sum(double[] weights) {
        double[] sum = new double[size()];
        for (int i = 0; i < values.length; i++) {
            for (int t = 0; t < sum.length; t++) {
                sum[t] += weights[i] * values[i][t];
            }
        }
        return sum;
    }

    /** Mean of the top points less mean of the bottom ones; empty where one of them is missing. */
    Optional<Estimate> topMinusBottom() {
        return topMinusBottomWeights()
                .map(
                        weights ->
                                SlowPart.of(sum(weights))
                                        .meanEstimate()
                                        .withSystematic(uncertainty(weights)));
    }

    /** Half the range within each whole half hour. */
    double[] halfHourRanges(int point) {
        double[] ranges = new double[halfHours.size()];
        double[] of = values[point];
        for (int h = 0; h < ranges.length; h++) {
            double least = Double.POSITIVE_INFINITY;
            double greatest = Double.NEGATIVE_INFINITY;
            for (int t = halfHours.get(h)[0]; t < halfHours.get(h)[1]; t++) {
                least = Math.min(least, of[t]);
                greatest = Math.max(greatest, of[t]);
            }
            ranges[h] = (greatest - least) / 2;
        }
        return ranges;
    }
}
