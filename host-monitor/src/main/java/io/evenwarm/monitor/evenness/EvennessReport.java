package io.evenwarm.monitor.evenness;

import io.evenwarm.monitor.history.CabinetCurves;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.TimeSpan;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * All that a keeper asked for, ready to be written or drawn in any form.
 *
 * @param survey of the span asked for
 * @param probes how far each thermometer could be believed, in the order of the points
 * @param against the other one, and what came of comparing the two
 */
public record EvennessReport(
        CabinetKey key,
        TimeSpan span,
        SurveyResult survey,
        List<ProbeTrust> probes,
        Optional<Against> against,
        Wording wording) {

    public EvennessReport {
        probes = List.copyOf(probes);
    }

    /**
     * A survey to compare with.
     *
     * @param isEarlier whether it is what was before; else what was after
     * @param comparison empty where one of the two surveys was withheld
     */
    public record Against(
            TimeSpan span,
            SurveyResult survey,
            boolean isEarlier,
            Optional<ComparisonResult> comparison) {}

    /**
     * Surveys a span, and another one to compare with. Both then take what was known of the probes
     * at the end of the later one.
     *
     * @param curves every reading of the span
     * @param doorOpenedAt in it, on purpose
     * @param other the same of the other one
     * @throws IllegalArgumentException when the question does not fit the readings
     */
    public static EvennessReport of(
            SurveyQuestion question,
            CabinetCurves curves,
            Optional<Instant> doorOpenedAt,
            Optional<CabinetCurves> other) {
        Instant end = curves.span().to();
        Instant knownAt = other.map(there -> there.span().to()).filter(end::isBefore).orElse(end);
        SurveyInput input = question.input(curves, doorOpenedAt, knownAt);
        SurveyResult survey = Survey.of(input);
        return new EvennessReport(
                curves.key(),
                curves.span(),
                survey,
                question.trust(curves, input, knownAt),
                other.map(there -> against(question, curves.span(), survey, there, knownAt)),
                question.wording());
    }

    private static Against against(
            SurveyQuestion question,
            TimeSpan span,
            SurveyResult survey,
            CabinetCurves other,
            Instant knownAt) {
        SurveyResult otherSurvey = Survey.of(question.input(other, Optional.empty(), knownAt));
        boolean isEarlier = !other.span().from().isAfter(span.from());
        return new Against(
                other.span(),
                otherSurvey,
                isEarlier,
                isEarlier
                        ? comparison(otherSurvey, survey, question.wording())
                        : comparison(survey, otherSurvey, question.wording()));
    }

    private static Optional<ComparisonResult> comparison(
            SurveyResult before, SurveyResult after, Wording wording) {
        return before.fold(
                one ->
                        after.fold(
                                two -> Optional.of(Comparison.of(one, two, wording)),
                                withheld -> Optional.empty()),
                withheld -> Optional.empty());
    }

    /** Begin and end in local time. */
    public String words(TimeSpan of) {
        return wording.time(of.from()) + " to " + wording.time(of.to());
    }
}
