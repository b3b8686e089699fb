package io.evenwarm.monitor.evenness;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** What figures of evenness mean, in words that stand on the terminal and on the page alike. */
public final class EvennessWords {

    /** A figure's name and what is to be said of it. */
    public record Line(String name, String words) {}

    private final Wording wording;

    public EvennessWords(Wording wording) {
        this.wording = wording;
    }

    /** The verdict in one sentence. */
    public String verdict(EvennessFigures figures) {
        if (figures.limit().isEmpty()) {
            return "No limit was asked for, so there is no verdict.";
        }
        String limit = "±" + wording.difference(figures.measure(), figures.limit().getAsDouble());
        if (figures.verdict().isEmpty() || figures.worstDeviation().isEmpty()) {
            return "No set point is known in this span, so there is no verdict on "
                    + limit
                    + ": name it with --set-point.";
        }
        Verdict verdict = figures.verdict().get();
        String margin = wording.difference(figures.measure(), verdict.margin());
        String around =
                figures.measure() == Measure.TEMPERATURE
                        ? " of the set point"
                        : " of the mean of all points";
        PointFigures deciding =
                figures.points().stream()
                        .filter(point -> point.verdict().equals(figures.verdict()))
                        .findFirst()
                        .orElse(figures.points().get(figures.worstDeviation().get()));
        String worst = deciding.words();
        return switch (verdict.answer()) {
            case PASS ->
                    "PASS: every point keeps within "
                            + limit
                            + around
                            + ", with "
                            + margin
                            + " to spare after all that is not certain.";
            case FAIL ->
                    "FAIL: "
                            + worst
                            + " leaves "
                            + limit
                            + around
                            + ", by "
                            + margin
                            + " even if all that is not certain is in its favour.";
            case NOT_PROVED ->
                    "NOT PROVED: what is not certain reaches "
                            + margin
                            + " beyond "
                            + limit
                            + around
                            + " at "
                            + worst
                            + ". "
                            + wayOut(figures, deciding);
        };
    }

    /** Which part of what is not certain is worth working at. */
    private static String wayOut(EvennessFigures figures, PointFigures worst) {
        double inside =
                worst.greatestDeviation().map(Estimate::value).orElse(0.0)
                        - figures.limit().orElse(0);
        return inside > 0
                ? "Its readings leave it, but the probe may be wrong: compare it with the others."
                : "Compare the probes side by side (evenwarm probes check), or make the cabinet more"
                        + " even.";
    }

    /** The figures of the whole cabinet, named as in the standards. */
    public List<Line> lines(EvennessFigures figures) {
        Measure measure = figures.measure();
        boolean isTemperature = measure == Measure.TEMPERATURE;
        String of = isTemperature ? "Temperature" : "Humidity";
        List<Line> lines = new ArrayList<>();
        lines.add(
                new Line(
                        of + " gradient",
                        wording.plusMinus(measure, figures.gradient())
                                + ", from "
                                + figures.points().get(figures.coldest()).words()
                                + " to "
                                + figures.points().get(figures.warmest()).words()));
        figures.variationInSpace()
                .ifPresent(
                        variation ->
                                lines.add(
                                        new Line(
                                                of + " variation in space",
                                                wording.plusMinus(measure, variation)
                                                        + " from the centre, at most")));
        figures.topMinusBottom()
                .ifPresent(
                        parting ->
                                lines.add(
                                        new Line(
                                                "Top minus bottom",
                                                wording.plusMinus(measure, parting))));
        PointFigures liveliest = figures.points().get(figures.worstFluctuation());
        lines.add(
                new Line(
                        of + " fluctuation",
                        "±"
                                + wording.difference(measure, liveliest.fluctuation().value())
                                + " at "
                                + liveliest.words()
                                + ", at most; ±"
                                + wording.difference(measure, liveliest.halfHourFluctuation())
                                + " within half an hour"));
        figures.worstDeviation()
                .map(figures.points()::get)
                .flatMap(worst -> deviation(measure, worst))
                .ifPresent(lines::add);
        lines.add(new Line("Hot spots", spots(figures, PointFigures.Standing.HOT_SPOT)));
        lines.add(new Line("Dead spots", spots(figures, PointFigures.Standing.DEAD_SPOT)));
        return lines;
    }

    private Optional<Line> deviation(Measure measure, PointFigures worst) {
        return worst.greatestDeviation()
                .map(
                        greatest ->
                                new Line(
                                        measure == Measure.TEMPERATURE
                                                ? "Deviation from the set point"
                                                : "Deviation from the mean",
                                        wording.plusMinus(measure, greatest)
                                                + " at "
                                                + worst.words()
                                                + ", at most, fluctuation included"));
    }

    private static String spots(EvennessFigures figures, PointFigures.Standing which) {
        List<String> there =
                figures.points().stream()
                        .filter(point -> point.spot() == which)
                        .map(PointFigures::words)
                        .toList();
        return there.isEmpty() ? "none" : String.join(", ", there);
    }

    public String recovery(Recovery recovery) {
        String fell =
                "The door was opened for 30 s; the cabinet fell by "
                        + wording.difference(
                                Measure.TEMPERATURE, Math.abs(recovery.deepestKelvin()))
                        + ". ";
        return recovery.settling()
                .map(
                        settling ->
                                fell
                                        + "Settling time "
                                        + minutes(settling)
                                        + " (DIN 12880), longest at "
                                        + recovery.slowest()
                                        + ".")
                .orElse(fell + recovery.slowest() + " did not come back within the span.");
    }

    private static String minutes(Duration length) {
        return String.format(Locale.ROOT, "%.1f min", length.toMillis() / 60_000.0);
    }

    /** One figure's change. */
    public Line line(FigureChange change) {
        Measure measure = change.measure();
        Estimate estimate = change.change();
        return new Line(
                change.name(),
                wording.difference(measure, change.before().value())
                        + " before, "
                        + wording.difference(measure, change.after().value())
                        + " after, change "
                        + wording.signed(measure, estimate.value())
                        + " ("
                        + wording.signed(measure, estimate.low())
                        + " to "
                        + wording.signed(measure, estimate.high())
                        + "): "
                        + words(change.answer()));
    }

    public static String words(FigureChange.Answer answer) {
        return switch (answer) {
            case BETTER -> "better";
            case WORSE -> "worse";
            case NOT_DISTINGUISHABLE -> "not distinguishable";
        };
    }

    public static String words(Optional<Verdict> verdict) {
        return verdict.map(
                        v ->
                                switch (v.answer()) {
                                    case PASS -> "pass";
                                    case FAIL -> "FAIL";
                                    case NOT_PROVED -> "not proved";
                                })
                .orElse("");
    }

    public static String words(PointFigures.Standing spot) {
        return switch (spot) {
            case HOT_SPOT -> "hot spot";
            case DEAD_SPOT -> "dead spot";
            case ORDINARY -> "";
        };
    }

    /** Verdict and standing of a point, as far as there is something to say. */
    public static String remark(PointFigures point) {
        String verdict = words(point.verdict());
        String spot = words(point.spot());
        return spot.isEmpty() || verdict.isEmpty() ? verdict + spot : verdict + ", " + spot;
    }
}
