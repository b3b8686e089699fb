package io.evenwarm.monitor.evenness;

import java.util.List;
import java.util.Optional;
import org.apache.commons.math3.stat.descriptive.moment.StandardDeviation;

/** Every point's corrected values in the settled part, cell by cell, without holes. Immutable. */
public final class FigureSeries {

    private final List<SurveyPoint> points;
    private final double[][] values;
    private final double[] scatters;
    private final double[] medians;
    private final int cellsPerHalfHour;

    FigureSeries(List<SurveyPoint> points, double[][] values, int cellsPerHalfHour) {
        this.points = List.copyOf(points);
        this.values = values;
        medians = medians(values);
        scatters = new double[values.length];
        for (int i = 0; i < values.length; i++) {
            scatters[i] = new StandardDeviation().evaluate(values[i]);
        }
        this.cellsPerHalfHour = cellsPerHalfHour;
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

    /** Standard uncertainty of a point's mean that comes from its probe. */
    double probeUncertainty(int point) {
        return points.get(point).quality().standardUncertainty(scatters[point]);
    }

    /** The part of it that a second survey with the same probe does not share. */
    double stepUncertainty(int point) {
        return points.get(point).quality().stepUncertainty(scatters[point]);
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

    /** Mean of the top points less mean of the bottom ones; empty where one of them is missing. */
    Optional<double[]> topMinusBottom() {
        int tops = 0;
        int bottoms = 0;
        double[] difference = new double[size()];
        for (SurveyPoint point : points) {
            tops += point.position().isTop() ? 1 : 0;
            bottoms += point.position().isBottom() ? 1 : 0;
        }
        if (tops == 0 || bottoms == 0) {
            return Optional.empty();
        }
        for (int i = 0; i < values.length; i++) {
            Position position = points.get(i).position();
            double weight =
                    position.isTop() ? 1.0 / tops : position.isBottom() ? -1.0 / bottoms : 0;
            for (int t = 0; t < difference.length; t++) {
                difference[t] += weight * values[i][t];
            }
        }
        return Optional.of(difference);
    }

    /** Standard uncertainty of top minus bottom that comes from the probes themselves. */
    double topMinusBottomUncertainty() {
        double top = 0;
        double bottom = 0;
        int tops = 0;
        int bottoms = 0;
        for (int i = 0; i < points.size(); i++) {
            Position position = points.get(i).position();
            double u = probeUncertainty(i);
            if (position.isTop()) {
                top += u * u;
                tops++;
            } else if (position.isBottom()) {
                bottom += u * u;
                bottoms++;
            }
        }
        return Math.sqrt(top / (tops * tops) + bottom / (bottoms * bottoms));
    }

    /** Half the range within each half hour, for as many whole ones as there are. */
    double[] halfHourRanges(int point) {
        double[] ranges = new double[size() / cellsPerHalfHour];
        double[] of = values[point];
        for (int h = 0; h < ranges.length; h++) {
            double least = Double.POSITIVE_INFINITY;
            double greatest = Double.NEGATIVE_INFINITY;
            for (int t = h * cellsPerHalfHour; t < (h + 1) * cellsPerHalfHour; t++) {
                least = Math.min(least, of[t]);
                greatest = Math.max(greatest, of[t]);
            }
            ranges[h] = (greatest - least) / 2;
        }
        return ranges;
    }
}
