package io.evenwarm.monitor.evenness;

import io.evenwarm.monitor.history.Curve;
import io.evenwarm.monitor.history.TimeSpan;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.apache.commons.math3.stat.descriptive.moment.Mean;

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
        for (SurveyPoint point : onePerProbe(points)) {
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
        Cells cells = Cells.of(input.span(), Cells.cellMillis(points), points);
        if (cells.size() < SlowPart.USUAL_DEGREES) {
            return withheld(
                    Reason.Kind.TOO_SHORT,
                    "The span is only "
                            + Wording.length(input.span().length())
                            + " long; a survey needs 30 min after the cabinet has settled.");
        }
        List<Reason> wrong = InputCheck.unitsMixed(cells, points);
        if (wrong.isEmpty()) {
            wrong = new ClockCheck(input.span(), cells.cellMillis(), onePerProbe(points)).reasons();
        }
        if (!wrong.isEmpty()) {
            return new SurveyResult.Withheld(wrong);
        }
        Settling settling = new Settling(cells, points, input);
        if (points.stream().anyMatch(SurveyPoint::isMoved)) {
            MovedSettling moved = new MovedSettling(cells, settling, input);
            MovedSettling.Outcome outcome = moved.find();
            return outcome.reasons().isEmpty()
                    ? settled(cells, outcome.found(), moved.words(outcome.found()))
                    : new SurveyResult.Withheld(outcome.reasons());
        }
        Settling.Outcome outcome = settling.find();
        if (outcome.found().isEmpty()) {
            return new SurveyResult.Withheld(outcome.reasons());
        }
        Settling.Found found = outcome.found().get();
        List<Reason> gaps = InputCheck.gaps(cells.parts(List.of(found)), points, input.wording());
        if (!gaps.isEmpty()) {
            return new SurveyResult.Withheld(gaps);
        }
        if (found.size() < MovedSettling.READINGS_MIN) {
            return withheld(
                    Reason.Kind.TOO_SHORT,
                    "Since the cabinet has settled there are only "
                            + found.size()
                            + " readings a point; at least "
                            + MovedSettling.READINGS_MIN
                            + " are needed. Choose a longer span.");
        }
        return settled(cells, List.of(found), found.words());
    }

    /** The same probe's readings at several places are one logger's. */
    private static List<SurveyPoint> onePerProbe(List<SurveyPoint> points) {
        Map<String, SurveyPoint> probes = new LinkedHashMap<>();
        points.forEach(point -> probes.putIfAbsent(point.probe(), point));
        return List.copyOf(probes.values());
    }

    /**
     * @param found the settled parts, in order; one where no probe was moved
     * @param words why those
     */
    private SurveyResult settled(Cells cells, List<Settling.Found> found, String words) {
        Cells part = cells.parts(found);
        TimeSpan span =
                new TimeSpan(
                        Instant.ofEpochMilli(part.beginMillis(0)),
                        Instant.ofEpochMilli(part.beginMillis(part.size())));
        Optional<double[]> ambient = whole(cells, found, input.ambientCelsius());
        Optional<double[]> duty = whole(cells, found, input.heaterOnFraction());
        OptionalDouble setPoint = setPoint(span);
        Optional<double[]> heat =
                setPoint.isEmpty()
                        ? duty
                        : ambient.map(room -> warming(room, setPoint.getAsDouble())).or(() -> duty);
        BridgedSeries bridged = BridgedSeries.of(input.temperatures(), part, found, heat);
        EvennessFigures temperature =
                FigureTaker.of(
                        Measure.TEMPERATURE,
                        bridged.series(),
                        setPoint,
                        OptionalDouble.of(input.limitKelvin()));
        return new SurveyResult.Surveyed(
                settledPart(span, part, bridged.series(), ambient, duty),
                words
                        + bridged.bridging()
                                .map(
                                        bridging ->
                                                " "
                                                        + bridging.words(
                                                                Measure.TEMPERATURE,
                                                                input.wording()))
                                .orElse(""),
                temperature,
                humidity(cells, found),
                recovery(cells, part),
                bridged.bridging());
    }

    private static double[] warming(double[] room, double insideCelsius) {
        return Arrays.stream(room).map(celsius -> insideCelsius - celsius).toArray();
    }

    private static SettledPart settledPart(
            TimeSpan span,
            Cells part,
            FigureSeries series,
            Optional<double[]> ambient,
            Optional<double[]> duty) {
        double[] weights = new double[part.points()];
        Arrays.fill(weights, 1.0 / weights.length);
        Optional<double[]> warming =
                ambient.map(
                        room -> {
                            double[] difference = series.sum(weights);
                            for (int t = 0; t < room.length; t++) {
                                difference[t] -= room[t];
                            }
                            return difference;
                        });
        return new SettledPart(
                span,
                Duration.ofMillis(part.size() * part.cellMillis()),
                part.minutes(),
                warming,
                duty);
    }

    /** Cells of a curve that is there all the time, or nearly so, in the settled parts. */
    private Optional<double[]> whole(Cells like, List<Settling.Found> found, Curve curve) {
        Cells cells = Cells.of(input.span(), like.cellMillis(), curve).parts(found);
        return 10 * cells.missing(0) > cells.size()
                ? Optional.empty()
                : Optional.of(cells.withoutHoles(0));
    }

    private Optional<EvennessFigures> humidity(Cells like, List<Settling.Found> found) {
        Cells all = Cells.of(input.span(), like.cellMillis(), input.humidities()).parts(found);
        List<Integer> whole = new ArrayList<>();
        boolean isAnyFixed = false;
        for (int i = 0; i < input.humidities().size(); i++) {
            SurveyPoint point = input.humidities().get(i);
            int wanted = 0;
            for (int t = 0; t < all.size(); t++) {
                wanted += point.wasThere(all.beginMillis(t), all.cellMillis()) ? 1 : 0;
            }
            int missing = all.missing(i) - (all.size() - wanted);
            if (wanted >= MovedSettling.READINGS_MIN && 10 * missing <= wanted) {
                whole.add(i);
                isAnyFixed |= !point.isMoved();
            }
        }
        if (whole.size() < 2 || !isAnyFixed) {
            return Optional.empty();
        }
        List<SurveyPoint> points = whole.stream().map(input.humidities()::get).toList();
        FigureSeries series =
                BridgedSeries.of(points, all.only(whole), found, Optional.empty()).series();
        double mean = 0;
        for (int i = 0; i < points.size(); i++) {
            mean += new Mean().evaluate(series.of(i)) / points.size();
        }
        return Optional.of(
                FigureTaker.of(
                        Measure.HUMIDITY,
                        series,
                        OptionalDouble.of(mean),
                        input.humidityLimitPercent()));
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
