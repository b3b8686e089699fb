package io.evenwarm.monitor.evenness;

import java.time.Duration;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;

/**
 * Whether a cabinet is more even than before: two surveys of the same points compared.
 *
 * <p>The gradient of the temperature decides, the other figures stand beside it. A probe that was
 * at the same place both times takes its own error along, so it drops out of the change; what is
 * left is its last digit. Where the two surveys' ends of the gradient are different probes, their
 * errors count.
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
        List<FigureChange> changes =
                new ArrayList<>(
                        new FigureChanges(before.temperature(), after.temperature(), cause).all());
        FigureChange gradient = changes.get(0);
        Optional<String> whyNoHumidity = whyNoHumidity();
        if (whyNoHumidity.isEmpty() && before.humidity().isPresent()) {
            changes.addAll(
                    new FigureChanges(
                                    before.humidity().get(),
                                    after.humidity().orElseThrow(),
                                    Optional.empty())
                            .all());
        }
        return new ComparisonResult.Compared(
                gradient.answer(), sentence(gradient), changes, whyNoHumidity);
    }

    /** Why humidity can't be compared, where at least one of the two has it. */
    private Optional<String> whyNoHumidity() {
        if (before.humidity().isEmpty() && after.humidity().isEmpty()) {
            return Optional.empty();
        }
        if (before.humidity().isEmpty() || after.humidity().isEmpty()) {
            return Optional.of(
                    "Humidity is not compared: it was measured at two places or more "
                            + (before.humidity().isPresent() ? "before" : "after")
                            + " only.");
        }
        if (!labels(before.humidity().get()).equals(labels(after.humidity().get()))) {
            return Optional.of(
                    "Humidity is not compared: it was measured at other places after than before.");
        }
        return Math.min(independent(before.humidity().get()), independent(after.humidity().get()))
                        < INDEPENDENT_MIN
                ? Optional.of(
                        "Humidity is not compared: it changes too slowly for a survey of this"
                                + " length.")
                : Optional.empty();
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
        double independent = independent(figures);
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

    /** How many independent readings of its gradient there are. */
    private static double independent(EvennessFigures figures) {
        return SlowPart.of(figures.series().difference(figures.warmest(), figures.coldest()))
                .effectiveSamples();
    }

    private String sentence(FigureChange gradient) {
        Estimate change = gradient.change();
        String by = wording.difference(Measure.TEMPERATURE, Math.abs(change.value()));
        String between =
                "95 % interval "
                        + signed(change.low())
                        + " to "
                        + signed(change.high())
                        + gradient.correction()
                                .filter(correction -> !signed(correction.amount()).startsWith("0"))
                                .map(this::words)
                                .orElse("");
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
