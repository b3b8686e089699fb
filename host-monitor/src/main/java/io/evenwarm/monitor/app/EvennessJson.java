package io.evenwarm.monitor.app;

import io.evenwarm.monitor.evenness.Bridging;
import io.evenwarm.monitor.evenness.ComparisonResult;
import io.evenwarm.monitor.evenness.Estimate;
import io.evenwarm.monitor.evenness.EvennessFigures;
import io.evenwarm.monitor.evenness.EvennessReport;
import io.evenwarm.monitor.evenness.FigureChange;
import io.evenwarm.monitor.evenness.Measure;
import io.evenwarm.monitor.evenness.PointFigures;
import io.evenwarm.monitor.evenness.ProbeEntry;
import io.evenwarm.monitor.evenness.ProbeTrust;
import io.evenwarm.monitor.evenness.Reason;
import io.evenwarm.monitor.evenness.Recovery;
import io.evenwarm.monitor.evenness.SurveyLoad;
import io.evenwarm.monitor.evenness.SurveyResult;
import io.evenwarm.monitor.evenness.Verdict;
import io.evenwarm.monitor.history.TimeSpan;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;

/** A report of evenness as one JSON object: Celsius, kelvins and percent by name. */
final class EvennessJson {

    private static final String NOTHING = "null";

    private EvennessJson() {}

    static String of(EvennessReport report) {
        List<String> members = new ArrayList<>();
        members.add(Json.member("agent", Json.text(report.key().agent().value())));
        members.add(Json.member("cabinet", Json.text(report.key().cabinet().value())));
        members.add(Json.member("span", span(report.span())));
        members.add(Json.member("load", load(report.load())));
        members.add(Json.member("survey", survey(report.survey())));
        members.add(
                Json.member(
                        "probes",
                        Json.array(report.probes().stream().map(EvennessJson::of).toList())));
        report.against()
                .ifPresent(
                        against -> {
                            members.add(
                                    Json.member(
                                            "against",
                                            Json.object(
                                                    Json.member("span", span(against.span())),
                                                    Json.member(
                                                            "isEarlier",
                                                            Boolean.toString(against.isEarlier())),
                                                    Json.member("load", load(against.load())),
                                                    Json.member(
                                                            "loadsDiffer",
                                                            Json.text(against.loadsDiffer())),
                                                    Json.member(
                                                            "survey", survey(against.survey())))));
                            members.add(
                                    Json.member(
                                            "comparison",
                                            against.comparison()
                                                    .map(EvennessJson::comparison)
                                                    .orElse(NOTHING)));
                        });
        return Json.object(members.toArray(String[]::new));
    }

    /** How far a probe can be believed: half widths where nothing else is said. */
    static String of(ProbeTrust trust) {
        return Json.object(
                Json.member("probe", Json.text(trust.probe().value())),
                Json.member("sensor", Json.text(trust.sensor().words())),
                Json.member("offsetKelvin", number(trust.quality().offset())),
                Json.member(
                        "offsetStandardUncertaintyKelvin",
                        number(trust.quality().offsetUncertainty())),
                Json.member("classKelvin", number(trust.quality().classHalfWidth())),
                Json.member("resolutionKelvin", number(trust.quality().resolution())),
                Json.member("driftKelvin", number(trust.quality().driftHalfWidth())),
                Json.member("readingExpandedUncertaintyKelvin", number(trust.readingKelvin())),
                Json.member("source", Json.text(trust.entry().map(entry -> entry.kind().key()))),
                Json.member("reference", Json.text(trust.entry().map(ProbeEntry::reference))),
                Json.member("since", Json.text(trust.entry().map(entry -> entry.at().toString()))));
    }

    private static String load(SurveyLoad load) {
        return Json.object(
                Json.member("was", load.kind().map(EvennessJson::word).orElse(NOTHING)),
                Json.member("said", load.said().map(EvennessJson::word).orElse(NOTHING)),
                Json.member(
                        "tubsOnRecord",
                        Json.array(
                                load.there().stream().map(tub -> Json.text(tub.name())).toList())),
                Json.member("tubsKilograms", number(load.kilograms())),
                Json.member(
                        "tubsMoved",
                        Json.array(
                                load.moved().stream().map(tub -> Json.text(tub.name())).toList())),
                Json.member("contradiction", Json.text(load.contradiction())));
    }

    private static String span(TimeSpan span) {
        return Json.object(
                Json.member("from", Json.text(span.from().toString())),
                Json.member("to", Json.text(span.to().toString())));
    }

    private static String survey(SurveyResult result) {
        return result.fold(
                survey ->
                        Json.object(
                                Json.member("settled", span(survey.settled().span())),
                                Json.member("settledBecause", Json.text(survey.settledWords())),
                                Json.member(
                                        "moved",
                                        survey.bridging().map(EvennessJson::moved).orElse(NOTHING)),
                                Json.member(
                                        "meanDifferenceToRoomKelvin",
                                        survey.settled()
                                                .meanWarming()
                                                .map(EvennessJson::number)
                                                .orElse(NOTHING)),
                                Json.member(
                                        "meanDuty",
                                        survey.settled()
                                                .meanDuty()
                                                .map(EvennessJson::number)
                                                .orElse(NOTHING)),
                                Json.member("temperature", figures(survey.temperature())),
                                Json.member(
                                        "humidity",
                                        survey.humidity()
                                                .map(EvennessJson::figures)
                                                .orElse(NOTHING)),
                                Json.member(
                                        "recovery",
                                        survey.recovery()
                                                .map(EvennessJson::recovery)
                                                .orElse(NOTHING))),
                withheld ->
                        Json.object(Json.member("withheldBecause", reasons(withheld.reasons()))));
    }

    private static String moved(Bridging bridging) {
        return Json.object(
                Json.member("comparedWith", Json.text(bridging.reference())),
                Json.member(
                        "places",
                        Json.array(
                                bridging.points().stream()
                                        .map(
                                                place ->
                                                        Json.object(
                                                                Json.member(
                                                                        "probe",
                                                                        Json.text(place.probe())),
                                                                Json.member(
                                                                        "position",
                                                                        Json.text(
                                                                                place.position())),
                                                                Json.member(
                                                                        "settled",
                                                                        Json.array(
                                                                                place
                                                                                        .settled()
                                                                                        .stream()
                                                                                        .map(
                                                                                                EvennessJson
                                                                                                        ::span)
                                                                                        .toList())),
                                                                Json.member(
                                                                        "addedExpandedUncertaintyKelvin",
                                                                        number(place.added()))))
                                        .toList())));
    }

    private static String reasons(List<Reason> reasons) {
        return Json.array(
                reasons.stream()
                        .map(
                                reason ->
                                        Json.object(
                                                Json.member("kind", word(reason.kind())),
                                                Json.member("words", Json.text(reason.words()))))
                        .toList());
    }

    private static String figures(EvennessFigures figures) {
        String unit = unit(figures.measure());
        return Json.object(
                Json.member("gradient" + unit, estimate(figures.gradient())),
                Json.member("warmest", Json.text(figures.points().get(figures.warmest()).probe())),
                Json.member("coldest", Json.text(figures.points().get(figures.coldest()).probe())),
                Json.member("warmestPosition", position(figures, figures.warmest())),
                Json.member("coldestPosition", position(figures, figures.coldest())),
                Json.member("variationInSpace" + unit, estimate(figures.variationInSpace())),
                Json.member("topMinusBottom" + unit, estimate(figures.topMinusBottom())),
                Json.member("wanted" + value(figures.measure()), number(figures.wanted())),
                Json.member("limit" + unit, number(figures.limit())),
                Json.member("verdict", verdict(figures.verdict(), unit)),
                Json.member(
                        "points",
                        Json.array(
                                figures.points().stream()
                                        .map(point -> point(point, figures.measure()))
                                        .toList())));
    }

    private static String position(EvennessFigures figures, int point) {
        return Json.text(figures.points().get(point).position().label());
    }

    private static String point(PointFigures point, Measure measure) {
        String unit = unit(measure);
        return Json.object(
                Json.member("probe", Json.text(point.probe())),
                Json.member("position", Json.text(point.position().label())),
                Json.member("mean" + value(measure), estimate(point.mean())),
                Json.member("fluctuation" + unit, estimate(point.fluctuation())),
                Json.member("halfHourFluctuation" + unit, number(point.halfHourFluctuation())),
                Json.member("deviation" + unit, estimate(point.deviation())),
                Json.member("greatestDeviation" + unit, estimate(point.greatestDeviation())),
                Json.member("variationInSpace" + unit, estimate(point.variationInSpace())),
                Json.member("independentSamples", number(point.independentSamples())),
                Json.member("spot", word(point.spot())),
                Json.member("verdict", verdict(point.verdict(), unit)));
    }

    private static String recovery(Recovery recovery) {
        return Json.object(
                Json.member("openedAt", Json.text(recovery.openedAt().toString())),
                Json.member(
                        "settlingSeconds",
                        recovery.settling()
                                .map(settling -> Long.toString(settling.toSeconds()))
                                .orElse(NOTHING)),
                Json.member("slowest", Json.text(recovery.slowest())),
                Json.member("deepestKelvin", number(recovery.deepestKelvin())));
    }

    private static String comparison(ComparisonResult comparison) {
        return comparison.fold(
                compared ->
                        Json.object(
                                Json.member("answer", word(compared.answer())),
                                Json.member("sentence", Json.text(compared.sentence())),
                                Json.member("whyNoHumidity", Json.text(compared.whyNoHumidity())),
                                Json.member(
                                        "changes",
                                        Json.array(
                                                compared.changes().stream()
                                                        .map(EvennessJson::change)
                                                        .toList()))),
                withheld ->
                        Json.object(Json.member("withheldBecause", reasons(withheld.reasons()))));
    }

    private static String change(FigureChange change) {
        String unit = unit(change.measure());
        return Json.object(
                Json.member("measure", word(change.measure())),
                Json.member("figure", word(change.figure())),
                Json.member("before" + unit, estimate(change.before())),
                Json.member("after" + unit, estimate(change.after())),
                Json.member("change" + unit, estimate(change.change())),
                Json.member(
                        "correctedForRoomOrDutyBy" + unit,
                        change.correction()
                                .map(correction -> number(correction.amount()))
                                .orElse(NOTHING)),
                Json.member("answer", word(change.answer())));
    }

    private static String unit(Measure measure) {
        return measure == Measure.TEMPERATURE ? "Kelvin" : "Percent";
    }

    private static String value(Measure measure) {
        return measure == Measure.TEMPERATURE ? "Celsius" : "Percent";
    }

    private static String verdict(Optional<Verdict> verdict, String unit) {
        return verdict.map(
                        v ->
                                Json.object(
                                        Json.member("answer", word(v.answer())),
                                        Json.member("margin" + unit, number(v.margin()))))
                .orElse(NOTHING);
    }

    private static String estimate(Optional<Estimate> estimate) {
        return estimate.map((Function<Estimate, String>) EvennessJson::estimate).orElse(NOTHING);
    }

    private static String estimate(Estimate estimate) {
        return Json.object(
                Json.member("value", number(estimate.value())),
                Json.member("expandedUncertainty", number(estimate.expanded())));
    }

    private static String word(Enum<?> of) {
        return Json.text(of.name().toLowerCase(Locale.ROOT).replace('_', '-'));
    }

    static String number(OptionalDouble value) {
        return value.isPresent() ? number(value.getAsDouble()) : NOTHING;
    }

    static String number(double value) {
        return String.format(Locale.ROOT, "%.4f", value);
    }
}
