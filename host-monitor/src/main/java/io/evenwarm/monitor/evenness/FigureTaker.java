package io.evenwarm.monitor.evenness;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * Takes the standards' figures of the settled part. Each one's uncertainty combines what the probes
 * are ({@link ProbeQuality}) with how well the mean of dependent readings is known ({@link
 * SlowPart}).
 */
final class FigureTaker {

    private FigureTaker() {}

    /**
     * @param wanted the set point, or what is to be had in its place
     * @param limit of the greatest deviation from that
     */
    static EvennessFigures of(
            Measure measure, FigureSeries series, OptionalDouble wanted, OptionalDouble limit) {
        List<SurveyPoint> points = series.points();
        int centre = -1;
        int warmest = 0;
        int coldest = 0;
        for (int i = 0; i < points.size(); i++) {
            // One that was measured all the time is known better.
            boolean isBetter = centre < 0 || points.get(centre).isMoved();
            boolean isWorse = centre >= 0 && points.get(i).isMoved();
            centre = points.get(i).position().isCentre() && isBetter && !isWorse ? i : centre;
        }
        List<PointFigures> figures = new ArrayList<>();
        for (int i = 0; i < points.size(); i++) {
            figures.add(point(series, i, centre, wanted, limit));
            double mean = figures.get(i).mean().value();
            warmest = mean > figures.get(warmest).mean().value() ? i : warmest;
            coldest = mean < figures.get(coldest).mean().value() ? i : coldest;
        }
        return new EvennessFigures(
                measure,
                figures,
                difference(series, warmest, coldest),
                warmest,
                coldest,
                greatest(figures),
                series.topMinusBottom(),
                worst(figures, figure -> figure.fluctuation().value()),
                wanted.isEmpty()
                        ? Optional.empty()
                        : Optional.of(
                                worst(
                                        figures,
                                        figure ->
                                                figure.greatestDeviation()
                                                        .map(Estimate::value)
                                                        .orElse(0.0))),
                wanted,
                limit,
                Verdict.overall(figures),
                series);
    }

    private static PointFigures point(
            FigureSeries series,
            int index,
            int centre,
            OptionalDouble wanted,
            OptionalDouble limit) {
        SurveyPoint point = series.points().get(index);
        SlowPart slow = SlowPart.of(series.of(index));
        Estimate mean = slow.meanEstimate().withSystematic(series.probeUncertainty(index));
        double farthest = farthest(series.of(index), slow.mean());
        Estimate fluctuation =
                slow.meanEstimate()
                        .withValue(farthest)
                        .withSystematic(series.ownUncertainty(index));
        Optional<Estimate> deviation =
                wanted.isEmpty()
                        ? Optional.empty()
                        : Optional.of(mean.withValue(mean.value() - wanted.getAsDouble()));
        Optional<Estimate> greatest =
                deviation.map(
                        d -> Estimate.combine(Math.abs(d.value()) + farthest, d, fluctuation));
        double halfHours = 0;
        double[] ranges = series.halfHourRanges(index);
        for (double range : ranges) {
            halfHours += range / ranges.length;
        }
        return new PointFigures(
                point.probe(),
                point.position(),
                mean,
                fluctuation,
                halfHours,
                deviation,
                greatest,
                centre < 0 || centre == index
                        ? Optional.empty()
                        : Optional.of(difference(series, index, centre)),
                series.independentSamples(index, slow),
                standing(series, index, limit),
                limit.isEmpty()
                        ? Optional.empty()
                        : greatest.map(g -> Verdict.of(g, limit.getAsDouble())));
    }

    private static double farthest(double[] values, double from) {
        double farthest = 0;
        for (double value : values) {
            farthest = Math.max(farthest, Math.abs(value - from));
        }
        return farthest;
    }

    /** Difference of two points' means: what both share is not in its uncertainty. */
    private static Estimate difference(FigureSeries series, int one, int other) {
        return SlowPart.of(series.difference(one, other))
                .meanEstimate()
                .withSystematic(series.differenceUncertainty(one, other));
    }

    private static PointFigures.Standing standing(
            FigureSeries series, int index, OptionalDouble limit) {
        if (limit.isEmpty()) {
            return PointFigures.Standing.ORDINARY;
        }
        int count = series.points().size();
        double squares = 0;
        for (int i = 0; i < count; i++) {
            squares += series.probeUncertainty(i) * series.probeUncertainty(i) / count;
        }
        // The variance of a median is π/2 times that of a mean, of many normal values.
        double ofMedian = Math.PI / 2 * squares / count;
        double own = series.probeUncertainty(index);
        Estimate difference =
                SlowPart.of(series.differenceToMedian(index))
                        .meanEstimate()
                        .withSystematic(Math.sqrt(own * own + ofMedian));
        double surely = Math.abs(difference.value()) - difference.expanded();
        if (surely <= limit.getAsDouble() / 2) {
            return PointFigures.Standing.ORDINARY;
        }
        return difference.value() > 0
                ? PointFigures.Standing.HOT_SPOT
                : PointFigures.Standing.DEAD_SPOT;
    }

    private static Optional<Estimate> greatest(List<PointFigures> figures) {
        Optional<Estimate> greatest = Optional.empty();
        for (PointFigures figure : figures) {
            Optional<Estimate> here = figure.variationInSpace();
            if (here.isPresent()
                    && Math.abs(here.get().value())
                            >= Math.abs(greatest.map(Estimate::value).orElse(0.0))) {
                greatest = here;
            }
        }
        return greatest;
    }

    /** How a figure of a point is had. */
    private interface Figure {
        double of(PointFigures figures);
    }

    private static int worst(List<PointFigures> figures, Figure figure) {
        int worst = 0;
        for (int i = 1; i < figures.size(); i++) {
            if (figure.of(figures.get(i)) > figure.of(figures.get(worst))) {
                worst = i;
            }
        }
        return worst;
    }
}
