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
 * @param load what stood in the cabinet meanwhile
 * @param probes how far each thermometer could be believed, in the order of the points
 * @param against the other one, and what came of comparing the two
 */
public record EvennessReport(
        CabinetKey key,
        TimeSpan span,
        SurveyResult survey,
        SurveyLoad load,
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
     * @param load what stood in the cabinet meanwhile
     * @param loadsDiffer that one was surveyed empty and the other loaded
     * @param comparison empty where one of the two surveys was withheld
     */
    public record Against(
            TimeSpan span,
            SurveyResult survey,
            boolean isEarlier,
            SurveyLoad load,
            Optional<String> loadsDiffer,
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
        SurveyLoad load = load(question, question.load().said(), curves, survey);
        return new EvennessReport(
                curves.key(),
                curves.span(),
                survey,
                load,
                question.trust(curves, input, knownAt),
                other.map(there -> against(question, curves.span(), survey, load, there, knownAt)),
                question.wording());
    }

    /** Of the settled part, where there is one: what came before it has had its effect. */
    private static SurveyLoad load(
            SurveyQuestion question,
            Optional<SurveyLoad.Kind> said,
            CabinetCurves curves,
            SurveyResult survey) {
        return SurveyLoad.of(
                said,
                question.load(),
                curves.key(),
                survey.fold(surveyed -> surveyed.settled().span(), withheld -> curves.span()));
    }

    private static Against against(
            SurveyQuestion question,
            TimeSpan span,
            SurveyResult survey,
            SurveyLoad load,
            CabinetCurves other,
            Instant knownAt) {
        SurveyResult otherSurvey = Survey.of(question.input(other, Optional.empty(), knownAt));
        SurveyLoad otherLoad = load(question, question.load().saidOfOther(), other, otherSurvey);
        boolean isEarlier = !other.span().from().isAfter(span.from());
        return new Against(
                other.span(),
                otherSurvey,
                isEarlier,
                otherLoad,
                load.unlike(otherLoad),
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
