package io.evenwarm.monitor.evenness;

import io.evenwarm.monitor.history.Curve;
import io.evenwarm.monitor.history.TimeSpan;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * A survey of a cabinet: figures and a verdict, or why there is none.
 *
 * <p>The readings become means of minutes (of their own interval where that is longer), the same
 * minutes for all points. What no arithmetic can put right is looked for first, then the settled
 * part is found ({@link Settling}), then the figures are taken of it. Each figure's uncertainty
 * combines what the probes are ({@link ProbeQuality}) with how well the mean of dependent readings
 * is known ({@link SlowPart}).
 */
public final class Survey {

    /** DKD-R 5-7, 7.3: at least 30 readings. */
    private static final int READINGS_MIN = 30;

    private static final double HALF_HOUR_MINUTES = 30;

    private final SurveyInput input;

    private Survey(SurveyInput input) {
        this.input = input;
    }

    public static SurveyResult of(SurveyInput input) {
        return new Survey(input).run();
    }

    private SurveyResult run() {
        List<SurveyPoint> points = input.temperatures();
        if (points.size() < SurveyInput.POINTS_MIN) {
            return withheld(
                    Reason.Kind.TOO_FEW_POINTS,
                    "A survey needs 3 points in the cabinet's air or more, but there "
                            + (points.size() == 1 ? "is " : "are ")
                            + points.size()
                            + " with readings in this span. IEC 60068-3-5 asks for 9: the eight"
                            + " corners of the working space and its centre.");
        }
        List<Reason> sparse = new ArrayList<>();
        for (SurveyPoint point : points) {
            long interval = Cells.usualIntervalMillis(point.curve());
            if (interval > InputCheck.SAMPLE_MINUTES_MAX * 60_000) {
                sparse.add(
                        new Reason(
                                Reason.Kind.TOO_SPARSE,
                                point.words()
                                        + " has a reading only each "
                                        + Wording.length(Duration.ofMillis(interval))
                                        + "; at least one each 15 min is needed."));
            }
        }
        if (!sparse.isEmpty()) {
            return new SurveyResult.Withheld(sparse);
        }
        Cells cells = Cells.of(input.span(), Cells.cellMillis(points), curves(points));
        if (cells.size() < SlowPart.USUAL_DEGREES) {
            return withheld(
                    Reason.Kind.TOO_SHORT,
                    "The span is only "
                            + Wording.length(input.span().length())
                            + " long; a survey needs 30 min after the cabinet has settled.");
        }
        List<Reason> wrong = InputCheck.unitsMixed(cells, points);
        if (wrong.isEmpty()) {
            wrong = new ClockCheck(cells, points).reasons();
        }
        if (!wrong.isEmpty()) {
            return new SurveyResult.Withheld(wrong);
        }
        Settling settling = new Settling(cells, points, input);
        Settling.Outcome outcome = settling.find();
        if (outcome.found().isEmpty()) {
            return new SurveyResult.Withheld(outcome.reasons());
        }
        return settled(cells, outcome.found().get());
    }

    private SurveyResult settled(Cells cells, Settling.Found found) {
        Cells part = cells.part(found.from(), found.to());
        List<Reason> gaps = InputCheck.gaps(part, input.temperatures(), input.wording());
        if (!gaps.isEmpty()) {
            return new SurveyResult.Withheld(gaps);
        }
        if (part.size() < READINGS_MIN) {
            return withheld(
                    Reason.Kind.TOO_SHORT,
                    "Since the cabinet has settled there are only "
                            + part.size()
                            + " readings a point; at least "
                            + READINGS_MIN
                            + " are needed. Choose a longer span.");
        }
        TimeSpan span =
                new TimeSpan(
                        Instant.ofEpochMilli(part.beginMillis(0)),
                        Instant.ofEpochMilli(part.beginMillis(part.size())));
        OptionalDouble setPoint = setPoint(span);
        EvennessFigures temperature =
                figures(
                        Measure.TEMPERATURE,
                        input.temperatures(),
                        part,
                        setPoint,
                        OptionalDouble.of(input.limitKelvin()));
        return new SurveyResult.Surveyed(
                settledPart(span, part, temperature),
                found.words(),
                temperature,
                humidity(span, part.cellMillis()),
                recovery(cells, part));
    }

    private SettledPart settledPart(TimeSpan span, Cells part, EvennessFigures temperature) {
        Optional<double[]> ambient = whole(span, part.cellMillis(), input.ambientCelsius());
        Optional<double[]> warming =
                ambient.map(
                        room -> {
                            double[] difference = new double[room.length];
                            for (int t = 0; t < room.length; t++) {
                                for (int i = 0; i < part.points(); i++) {
                                    difference[t] += temperature.series().of(i)[t] / part.points();
                                }
                                difference[t] -= room[t];
                            }
                            return difference;
                        });
        return new SettledPart(
                span,
                part.minutes(),
                warming,
                whole(span, part.cellMillis(), input.heaterOnFraction()));
    }

    /** Cells of a curve that is there all the time, or nearly so. */
    private static Optional<double[]> whole(TimeSpan span, long cellMillis, Curve curve) {
        Cells cells = Cells.of(span, cellMillis, curve);
        return 10 * cells.missing(0) > cells.size()
                ? Optional.empty()
                : Optional.of(cells.withoutHoles(0));
    }

    private Optional<EvennessFigures> humidity(TimeSpan span, long cellMillis) {
        List<SurveyPoint> whole = new ArrayList<>();
        for (SurveyPoint point : input.humidities()) {
            if (whole(span, cellMillis, point.curve()).isPresent()) {
                whole.add(point);
            }
        }
        if (whole.size() < 2) {
            return Optional.empty();
        }
        Cells cells = Cells.of(span, cellMillis, curves(whole));
        double mean = 0;
        for (int i = 0; i < whole.size(); i++) {
            mean +=
                    (cells.mean(i, 0, cells.size()) + whole.get(i).quality().offset())
                            / whole.size();
        }
        return Optional.of(
                figures(
                        Measure.HUMIDITY,
                        whole,
                        cells,
                        OptionalDouble.of(mean),
                        input.humidityLimitPercent()));
    }

    private static Curve[] curves(List<SurveyPoint> points) {
        return points.stream().map(SurveyPoint::curve).toArray(Curve[]::new);
    }

    /** The last set point told until the end of the part: it does not change within. */
    private OptionalDouble setPoint(TimeSpan span) {
        Curve curve = input.setPointCelsius();
        OptionalDouble found = OptionalDouble.empty();
        for (int i = 0; i < curve.size(); i++) {
            if (curve.epochMillis(i) >= span.to().toEpochMilli() && found.isPresent()) {
                break;
            }
            if (!Double.isNaN(curve.value(i))) {
                found = OptionalDouble.of(curve.value(i));
            }
        }
        return found;
    }

    private static EvennessFigures figures(
            Measure measure,
            List<SurveyPoint> points,
            Cells part,
            OptionalDouble wanted,
            OptionalDouble limit) {
        double[][] values = new double[points.size()][];
        int centre = -1;
        int warmest = 0;
        int coldest = 0;
        for (int i = 0; i < values.length; i++) {
            ProbeQuality quality = points.get(i).quality();
            values[i] = part.withoutHoles(i);
            for (int t = 0; t < values[i].length; t++) {
                values[i][t] += quality.offset();
            }
            centre = centre < 0 && points.get(i).position().isCentre() ? i : centre;
        }
        FigureSeries series = new FigureSeries(points, values, part.cellsOf(HALF_HOUR_MINUTES));
        List<PointFigures> figures = new ArrayList<>();
        for (int i = 0; i < values.length; i++) {
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
                series.topMinusBottom()
                        .map(
                                parting ->
                                        SlowPart.of(parting)
                                                .meanEstimate()
                                                .withSystematic(
                                                        series.topMinusBottomUncertainty())),
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
                        .withSystematic(series.stepUncertainty(index));
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
                slow.effectiveSamples(),
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
                .withSystematic(
                        Math.hypot(series.probeUncertainty(one), series.probeUncertainty(other)));
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

    private Optional<Recovery> recovery(Cells cells, Cells part) {
        if (input.doorOpenedAt().isEmpty()) {
            return Optional.empty();
        }
        Instant opened = input.doorOpenedAt().get();
        Instant shut = opened.plus(Recovery.OPEN);
        int points = input.temperatures().size();
        double deepest = 0;
        int lastOut = -1;
        int slowest = 0;
        int door = (int) ((opened.toEpochMilli() - cells.beginMillis(0)) / cells.cellMillis());
        int end = nextSettledEnd(cells, part, door);
        double[] departures = new double[points];
        for (int cell = door; cell < end; cell++) {
            int found = 0;
            for (int i = 0; i < points; i++) {
                double departure = cells.value(i, cell) - part.mean(i, 0, part.size());
                if (!Double.isNaN(departure)) {
                    departures[found++] = departure;
                }
                if (Math.abs(departure) > input.limitKelvin()) {
                    lastOut = cell;
                    slowest = i;
                }
            }
            if (found > 0) {
                deepest = Math.min(deepest, Cells.median(departures, found));
            }
        }
        Optional<Duration> settling =
                lastOut == end - 1
                        ? Optional.empty()
                        : lastOut < 0
                                ? Optional.of(Duration.ZERO)
                                : Optional.of(
                                        Duration.between(
                                                shut,
                                                Instant.ofEpochMilli(
                                                        cells.beginMillis(lastOut + 1))));
        return Optional.of(
                new Recovery(
                        opened,
                        settling.map(d -> d.isNegative() ? Duration.ZERO : d),
                        input.temperatures().get(slowest).words(),
                        deepest));
    }

    /** Where the settled part comes after the opening, it ends there what came back. */
    private static int nextSettledEnd(Cells cells, Cells part, int door) {
        long partBegin = part.beginMillis(0);
        return partBegin > cells.beginMillis(door)
                ? (int) ((partBegin - cells.beginMillis(0)) / cells.cellMillis()) + 1
                : cells.size();
    }

    private static SurveyResult withheld(Reason.Kind kind, String words) {
        return new SurveyResult.Withheld(List.of(new Reason(kind, words)));
    }
}
