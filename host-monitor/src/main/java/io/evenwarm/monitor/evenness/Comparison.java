package io.evenwarm.monitor.evenness;

import java.time.Duration;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;

/**
 * Whether a cabinet is more even than before: two surveys of the same points compared, temperature
 * only.
 *
 * <p>The gradient decides, the other figures stand beside it. A probe that was at the same place
 * both times takes its own error along, so it drops out of the change; what is left is its last
 * digit. Where the two surveys' ends of the gradient are different probes, their errors count.
 *
 * <p>See {@link Change} for the interval and for the correction.
 */
public final class Comparison {

    /**
     * What takes longer than a survey does not show in its scatter, and heaters, doors and rooms
     * have their turns of an hour.
     */
    private static final double MINUTES_MIN = 120;

    /** With fewer independent samples the interval is too uncertain itself. */
    private static final double INDEPENDENT_MIN = 8;

    private final SurveyResult.Surveyed before;
    private final SurveyResult.Surveyed after;
    private final Wording wording;
    private final Optional<Change.Cause> cause;

    private Comparison(SurveyResult.Surveyed before, SurveyResult.Surveyed after, Wording wording) {
        this.before = before;
        this.after = after;
        this.wording = wording;
        this.cause = cause(before.settled(), after.settled());
    }

    public static ComparisonResult of(
            SurveyResult.Surveyed before, SurveyResult.Surveyed after, Wording wording) {
        return new Comparison(before, after, wording).run();
    }

    private static Optional<Change.Cause> cause(SettledPart before, SettledPart after) {
        if (before.warming().isPresent() && after.warming().isPresent()) {
            return Optional.of(
                    new Change.Cause(
                            FigureChange.Correction.By.DIFFERENCE_TO_ROOM,
                            SlowPart.of(before.warming().get()),
                            SlowPart.of(after.warming().get())));
        }
        if (before.duty().isPresent() && after.duty().isPresent()) {
            return Optional.of(
                    new Change.Cause(
                            FigureChange.Correction.By.DUTY,
                            SlowPart.of(before.duty().get()),
                            SlowPart.of(after.duty().get())));
        }
        return Optional.empty();
    }

    private ComparisonResult run() {
        List<Reason> reasons = new ArrayList<>();
        Set<String> labelsBefore = labels(before.temperature());
        Set<String> labelsAfter = labels(after.temperature());
        if (!labelsBefore.equals(labelsAfter)) {
            Set<String> only = new HashSet<>(labelsBefore);
            only.addAll(labelsAfter);
            labelsBefore.retainAll(labelsAfter);
            only.removeAll(labelsBefore);
            reasons.add(
                    new Reason(
                            Reason.Kind.POINTS_DIFFER,
                            "The two surveys are of different points ("
                                    + String.join(", ", only.stream().sorted().toList())
                                    + " in one of them only). Leave those out with --without, or"
                                    + " measure there again."));
        }
        requireIndependent("before", before, reasons);
        requireIndependent("after", after, reasons);
        if (!reasons.isEmpty()) {
            return new ComparisonResult.Withheld(reasons);
        }
        List<FigureChange> changes = new ArrayList<>();
        FigureChange gradient =
                change(
                        FigureChange.Figure.GRADIENT,
                        gradient(before.temperature()),
                        gradient(after.temperature()));
        changes.add(gradient);
        variation().ifPresent(changes::add);
        parting().ifPresent(changes::add);
        deviation().ifPresent(changes::add);
        fluctuation().ifPresent(changes::add);
        return new ComparisonResult.Compared(gradient.answer(), sentence(gradient), changes);
    }

    private static int coldest(SurveyResult.Surveyed survey) {
        return survey.temperature().coldest();
    }

    private static Set<String> labels(EvennessFigures figures) {
        Set<String> labels = new HashSet<>();
        figures.points().forEach(point -> labels.add(point.position().label()));
        return labels;
    }

    private static void requireIndependent(
            String which, SurveyResult.Surveyed survey, List<Reason> reasons) {
        EvennessFigures figures = survey.temperature();
        Duration settled = survey.settled().length();
        if (settled.toMinutes() < MINUTES_MIN) {
            reasons.add(
                    new Reason(
                            Reason.Kind.TOO_SHORT,
                            "The survey "
                                    + which
                                    + " has only "
                                    + Wording.length(settled)
                                    + " after settling; a comparison needs 2 h. Choose a longer"
                                    + " span."));
            return;
        }
        double independent =
                SlowPart.of(figures.series().difference(figures.warmest(), figures.coldest()))
                        .effectiveSamples();
        if (independent < INDEPENDENT_MIN) {
            reasons.add(
                    new Reason(
                            Reason.Kind.TOO_SHORT,
                            String.format(
                                    Locale.ROOT,
                                    "The readings of the survey %s change so slowly that its %s"
                                            + " are worth only %.0f independent ones; %.0f are"
                                            + " needed. Choose a longer span.",
                                    which,
                                    Wording.length(settled),
                                    independent,
                                    INDEPENDENT_MIN)));
        }
    }

    private static Combination gradient(EvennessFigures of) {
        return Combination.pair(of.series(), of.warmest(), of.coldest());
    }

    private Optional<FigureChange> variation() {
        Optional<Combination> then = farthestFromCentre(before.temperature());
        Optional<Combination> now = farthestFromCentre(after.temperature());
        return then.isEmpty() || now.isEmpty()
                ? Optional.empty()
                : Optional.of(
                        change(FigureChange.Figure.VARIATION_IN_SPACE, then.get(), now.get()));
    }

    private static Optional<Combination> farthestFromCentre(EvennessFigures of) {
        int farthest = -1;
        int centre = -1;
        double most = -1;
        for (int i = 0; i < of.points().size(); i++) {
            Optional<Estimate> variation = of.points().get(i).variationInSpace();
            if (variation.isEmpty()) {
                centre = centre < 0 ? i : centre;
            } else if (Math.abs(variation.get().value()) > most) {
                most = Math.abs(variation.get().value());
                farthest = i;
            }
        }
        return farthest < 0
                ? Optional.empty()
                : Optional.of(Combination.pair(of.series(), farthest, centre));
    }

    private Optional<FigureChange> parting() {
        Optional<Combination> then = topMinusBottom(before.temperature());
        Optional<Combination> now = topMinusBottom(after.temperature());
        return then.isEmpty() || now.isEmpty()
                ? Optional.empty()
                : Optional.of(change(FigureChange.Figure.TOP_MINUS_BOTTOM, then.get(), now.get()));
    }

    private static Optional<Combination> topMinusBottom(EvennessFigures of) {
        return of.series()
                .topMinusBottomWeights()
                .map(weights -> new Combination(of.series(), of.series().sum(weights), weights));
    }

    private Optional<FigureChange> deviation() {
        Optional<Combination> then = farthestFromSetPoint(before.temperature());
        Optional<Combination> now = farthestFromSetPoint(after.temperature());
        return then.isEmpty() || now.isEmpty()
                ? Optional.empty()
                : Optional.of(
                        // What a set point decides does not depend on the room.
                        change(
                                FigureChange.Figure.DEVIATION,
                                then.get(),
                                now.get(),
                                Optional.empty()));
    }

    private static Optional<Combination> farthestFromSetPoint(EvennessFigures of) {
        if (of.wanted().isEmpty()) {
            return Optional.empty();
        }
        int farthest = 0;
        double most = -1;
        for (int i = 0; i < of.points().size(); i++) {
            double deviation =
                    Math.abs(of.points().get(i).mean().value() - of.wanted().getAsDouble());
            if (deviation > most) {
                most = deviation;
                farthest = i;
            }
        }
        return Optional.of(Combination.departure(of.series(), farthest, of.wanted().getAsDouble()));
    }

    /** The mean of all points' half-hour fluctuations. */
    private Optional<FigureChange> fluctuation() {
        double[] then = halfHours(before.temperature());
        double[] now = halfHours(after.temperature());
        if (then.length < 4 || now.length < 4) {
            return Optional.empty();
        }
        SlowPart slowThen = SlowPart.of(then);
        SlowPart slowNow = SlowPart.of(now);
        return Optional.of(
                new FigureChange(
                        FigureChange.Figure.FLUCTUATION,
                        slowThen.meanEstimate(),
                        slowNow.meanEstimate(),
                        new Change(slowThen, slowNow).plain(),
                        Optional.empty()));
    }

    private static double[] halfHours(EvennessFigures of) {
        int points = of.points().size();
        double[] mean = of.series().halfHourRanges(0).clone();
        for (int i = 1; i < points; i++) {
            double[] ranges = of.series().halfHourRanges(i);
            for (int h = 0; h < mean.length; h++) {
                mean[h] += ranges[h];
            }
        }
        for (int h = 0; h < mean.length; h++) {
            mean[h] /= points;
        }
        return mean;
    }

    private FigureChange change(FigureChange.Figure figure, Combination then, Combination now) {
        return change(figure, then, now, cause);
    }

    /**
     * @param by what both depend on; empty where nothing is to be corrected
     */
    private static FigureChange change(
            FigureChange.Figure figure,
            Combination then,
            Combination now,
            Optional<Change.Cause> by) {
        SlowPart slowThen = then.slowPart();
        SlowPart slowNow = now.slowPart();
        Change change = new Change(slowThen, slowNow);
        Optional<Change.Corrected> corrected = by.flatMap(change::corrected);
        return new FigureChange(
                figure,
                slowThen.meanEstimate(),
                slowNow.meanEstimate(),
                corrected
                        .map(Change.Corrected::change)
                        .orElse(change.plain())
                        .withSystematic(Combination.ofProbes(then, now)),
                corrected.map(Change.Corrected::correction));
    }

    private String sentence(FigureChange gradient) {
        Estimate change = gradient.change();
        String by = wording.difference(Measure.TEMPERATURE, Math.abs(change.value()));
        String between =
                "95 % interval "
                        + signed(change.low())
                        + " to "
                        + signed(change.high())
                        + gradient.correction().map(this::words).orElse("");
        return switch (gradient.answer()) {
            case BETTER ->
                    "Better: the gradient is "
                            + by
                            + " smaller than before ("
                            + between
                            + "). Keep what was changed.";
            case WORSE ->
                    "Worse: the gradient is "
                            + by
                            + " greater than before ("
                            + between
                            + "). Undo what was changed, or see that the fan's air reaches "
                            + after.temperature().points().get(coldest(after)).words()
                            + " and that nothing blocks its way back.";
            case NOT_DISTINGUISHABLE ->
                    "Not distinguishable: the gradient changed by "
                            + signed(change.value())
                            + " ("
                            + between
                            + "), which can be nothing at all. A change of "
                            + wording.difference(Measure.TEMPERATURE, change.expanded())
                            + " or more would have shown; for less, survey for longer.";
        };
    }

    private String signed(double kelvin) {
        return wording.signed(Measure.TEMPERATURE, kelvin);
    }

    private String words(FigureChange.Correction correction) {
        boolean isRoom = correction.by() == FigureChange.Correction.By.DIFFERENCE_TO_ROOM;
        return "; "
                + signed(correction.amount())
                + " of it for "
                + (isRoom
                        ? "a room that was "
                                + wording.difference(
                                        Measure.TEMPERATURE, Math.abs(correction.difference()))
                                + (correction.difference() > 0 ? " colder" : " warmer")
                                + " against the inside"
                        : String.format(
                                Locale.ROOT,
                                "a duty that was %.0f points %s",
                                100 * Math.abs(correction.difference()),
                                correction.difference() > 0 ? "higher" : "lower"))
                + (correction.isMeasured() ? "" : ", by proportion");
    }
}
