package io.evenwarm.monitor.evenness;

import io.evenwarm.monitor.history.CabinetCurves;
import io.evenwarm.monitor.history.TimeSpan;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Collectors;

/**
 * A survey while its readings come in: looked at again and again, until the cabinet has been
 * settled for as long as was asked for. What disturbs it in the middle is told, and it begins anew
 * after that. One thread.
 */
public final class LiveSurvey {

    /** DKD-R 5-7, 7.3: nothing shorter is a survey. */
    public static final Duration SETTLED_MIN = Duration.ofMinutes(30);

    /** Longer ones are surveyed from the history. */
    public static final Duration SETTLED_MAX = Duration.ofDays(2);

    /** A night's worth: rooms change by day and night. Common practice, no source. */
    public static final Duration SETTLED_USUAL = Duration.ofHours(12);

    private final SurveyQuestion question;
    private final Duration wanted;
    private Instant begin;

    /**
     * How far it has come.
     *
     * @param begin since when readings count
     * @param points in the cabinet's air
     * @param steadyPoints how many of them have kept where they are for half an hour
     * @param settled for how long the cabinet as a whole has been settled
     * @param isDone whether that is long enough
     * @param words all of this, and why it is not settled yet, for a person
     * @param report of what there is until now
     */
    public record Progress(
            Instant begin,
            int points,
            int steadyPoints,
            Duration settled,
            boolean isDone,
            String words,
            EvennessReport report) {}

    /**
     * @param begin since when readings count
     * @param wanted how long it must be settled, 30 min to 48 h
     */
    public LiveSurvey(SurveyQuestion question, Instant begin, Duration wanted) {
        if (wanted.compareTo(SETTLED_MIN) < 0 || wanted.compareTo(SETTLED_MAX) > 0) {
            throw new IllegalArgumentException(
                    "a live survey must be settled for 30 min to 48 h but was asked for "
                            + Wording.length(wanted));
        }
        this.question = question;
        this.wanted = wanted;
        this.begin = begin;
    }

    /**
     * Looks at what has come until now.
     *
     * @param readings every reading of a span
     * @param newest the cabinet's newest moment
     * @throws IllegalArgumentException when the question does not fit the readings
     */
    public Progress look(Function<TimeSpan, CabinetCurves> readings, Instant newest) {
        TimeSpan span = new TimeSpan(begin, newest.isAfter(begin) ? newest : begin.plusMillis(1));
        CabinetCurves curves = readings.apply(span);
        EvennessReport report =
                EvennessReport.of(question, curves, Optional.empty(), Optional.empty());
        SurveyInput input = question.input(curves, Optional.empty(), span.to());
        int points = input.temperatures().size();
        int steady = points == 0 ? 0 : steadyPoints(input);
        return report.survey()
                .fold(
                        surveyed -> settled(report, surveyed, points),
                        withheld -> waiting(report, withheld.reasons(), points, steady, newest));
    }

    private static int steadyPoints(SurveyInput input) {
        List<SurveyPoint> points = input.temperatures();
        Cells cells = Cells.of(input.span(), Cells.cellMillis(points), points);
        return new Settling(cells, points, input).steadyPoints();
    }

    private Progress settled(EvennessReport report, SurveyResult.Surveyed surveyed, int points) {
        TimeSpan span = surveyed.settled().span();
        Duration settled = span.length();
        Duration left = wanted.minus(settled);
        boolean isDone = left.compareTo(Duration.ZERO) <= 0;
        String words =
                "All "
                        + points
                        + " points settled since "
                        + question.wording().time(span.from())
                        + ", for "
                        + Wording.length(settled)
                        + " of "
                        + Wording.length(wanted)
                        + (isDone ? "." : "; " + Wording.length(left) + " yet.");
        return new Progress(begin, points, points, settled, isDone, words, report);
    }

    private Progress waiting(
            EvennessReport report, List<Reason> reasons, int points, int steady, Instant newest) {
        String words =
                steady
                        + " of "
                        + points
                        + " points settled; "
                        + Wording.length(wanted)
                        + " yet once all are. "
                        + reasons.stream().map(this::words).collect(Collectors.joining(" "));
        Instant since = begin;
        if (reasons.stream().anyMatch(reason -> reason.kind() == Reason.Kind.DISTURBED)) {
            begin = newest;
            words += " The survey begins anew from now on.";
        }
        return new Progress(since, points, steady, Duration.ZERO, false, words, report);
    }

    /** While readings still come, a short span is nothing to be put right. */
    private String words(Reason reason) {
        return reason.kind() == Reason.Kind.TOO_SHORT
                ? "Half an hour of readings is needed before anything can be said."
                : reason.words();
    }
}
