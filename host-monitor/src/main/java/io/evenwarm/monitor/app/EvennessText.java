package io.evenwarm.monitor.app;

import io.evenwarm.monitor.evenness.ComparisonResult;
import io.evenwarm.monitor.evenness.Estimate;
import io.evenwarm.monitor.evenness.EvennessFigures;
import io.evenwarm.monitor.evenness.EvennessReport;
import io.evenwarm.monitor.evenness.EvennessWords;
import io.evenwarm.monitor.evenness.FigureChange;
import io.evenwarm.monitor.evenness.Measure;
import io.evenwarm.monitor.evenness.PointFigures;
import io.evenwarm.monitor.evenness.Reason;
import io.evenwarm.monitor.evenness.SurveyResult;
import io.evenwarm.monitor.evenness.Wording;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** A report of evenness as lines for a terminal. */
final class EvennessText {

    private static final int NAME_COLUMN = 32;
    private static final int CHANGE_COLUMN = 48;

    private final EvennessReport report;
    private final EvennessWords words;
    private final List<String> lines = new ArrayList<>();

    private EvennessText(EvennessReport report) {
        this.report = report;
        words = new EvennessWords(report.wording());
    }

    static List<String> of(EvennessReport report) {
        EvennessText text = new EvennessText(report);
        text.write();
        return text.lines;
    }

    private void write() {
        lines.add(
                "Cabinet "
                        + report.key().cabinet()
                        + " of "
                        + report.key().agent()
                        + ", "
                        + report.words(report.span()));
        lines.add(report.load().words(report.wording()));
        report.survey().fold(this::surveyed, this::withheld);
        report.against()
                .ifPresent(
                        against -> {
                            lines.add("");
                            lines.add(
                                    "Against "
                                            + report.words(against.span())
                                            + (against.isEarlier() ? ", before" : ", after"));
                            against.comparison()
                                    .ifPresentOrElse(
                                            this::compared,
                                            () -> against.survey().fold(s -> s, this::withheld));
                            lines.add(against.load().words(report.wording()));
                            against.loadsDiffer().ifPresent(lines::add);
                        });
        if (!report.probes().isEmpty()) {
            lines.add("");
            lines.add("Probes, ± for 95 %:");
            report.probes().forEach(probe -> lines.add("  " + probe.words(report.wording())));
        }
    }

    private SurveyResult withheld(SurveyResult.Withheld withheld) {
        reasons(withheld.reasons());
        return withheld;
    }

    private void reasons(List<Reason> reasons) {
        lines.add("No verdict:");
        reasons.forEach(reason -> lines.add("  " + reason.words()));
    }

    private SurveyResult surveyed(SurveyResult.Surveyed survey) {
        lines.add(survey.settledWords());
        figures(survey.temperature());
        survey.humidity().ifPresent(this::figures);
        survey.recovery().ifPresent(recovery -> lines.add(words.recovery(recovery)));
        return survey;
    }

    private void figures(EvennessFigures figures) {
        lines.add("");
        lines.add(words.verdict(figures));
        lines.add("");
        table(figures);
        lines.add("");
        for (EvennessWords.Line line : words.lines(figures)) {
            lines.add(padded(line.name(), NAME_COLUMN) + line.words());
        }
    }

    private void table(EvennessFigures figures) {
        Wording wording = report.wording();
        Measure measure = figures.measure();
        int width = "point ".length();
        for (PointFigures point : figures.points()) {
            width = Math.max(width, point.words().length() + 1);
        }
        lines.add(
                padded("point", width)
                        + String.format(
                                Locale.ROOT,
                                " %9s %8s %10s %12s %12s  in %s, ± 95 %%",
                                "mean",
                                "±",
                                "deviation",
                                "fluctuation",
                                "from centre",
                                wording.unitOfDifference(measure)));
        for (PointFigures point : figures.points()) {
            lines.add(
                    padded(point.words(), width)
                            + String.format(
                                            Locale.ROOT,
                                            " %9s %8s %10s %12s %12s  %s",
                                            shown(measure, point.mean().value()),
                                            difference(measure, point.mean().expanded()),
                                            signed(measure, point.deviation()),
                                            difference(measure, point.fluctuation().value()),
                                            signed(measure, point.variationInSpace()),
                                            EvennessWords.remark(point))
                                    .stripTrailing());
        }
    }

    private String shown(Measure measure, double value) {
        return number(
                measure == Measure.TEMPERATURE
                        ? report.wording().unit().fromCelsius(value)
                        : value);
    }

    private String difference(Measure measure, double value) {
        return number(
                measure == Measure.TEMPERATURE ? report.wording().unit().fromKelvin(value) : value);
    }

    private String signed(Measure measure, Optional<Estimate> estimate) {
        return estimate.map(e -> (e.value() < 0 ? "" : "+") + difference(measure, e.value()))
                .orElse("");
    }

    private static String number(double value) {
        return String.format(Locale.ROOT, "%.2f", value);
    }

    private void compared(ComparisonResult comparison) {
        comparison.fold(
                compared -> {
                    lines.add(compared.sentence());
                    for (FigureChange change : compared.changes()) {
                        EvennessWords.Line line = words.line(change);
                        lines.add("  " + padded(line.name(), CHANGE_COLUMN) + line.words());
                    }
                    compared.whyNoHumidity().ifPresent(why -> lines.add("  " + why));
                    return compared;
                },
                withheld -> {
                    reasons(withheld.reasons());
                    return withheld;
                });
    }

    private static String padded(String text, int width) {
        return text + " ".repeat(Math.max(1, width - text.length()));
    }
}
