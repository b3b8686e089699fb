package io.evenwarm.monitor.app;

import io.evenwarm.monitor.evenness.ComparisonResult;
import io.evenwarm.monitor.evenness.Estimate;
import io.evenwarm.monitor.evenness.EvennessFigures;
import io.evenwarm.monitor.evenness.EvennessReport;
import io.evenwarm.monitor.evenness.EvennessWords;
import io.evenwarm.monitor.evenness.FigureChange;
import io.evenwarm.monitor.evenness.PointFigures;
import io.evenwarm.monitor.evenness.Reason;
import io.evenwarm.monitor.evenness.SurveyResult;
import io.evenwarm.monitor.evenness.Verdict;
import io.evenwarm.monitor.report.CabinetPicture;
import java.util.List;
import java.util.Optional;

/** A report of evenness as one HTML file to print or to keep: no script, nothing from elsewhere. */
final class EvennessPage {

    private final EvennessReport report;
    private final EvennessWords words;
    private final PageWriter page;

    private EvennessPage(EvennessReport report) {
        this.report = report;
        words = new EvennessWords(report.wording());
        page = new PageWriter("Evenness of cabinet " + report.key().cabinet());
    }

    static String of(EvennessReport report) {
        EvennessPage page = new EvennessPage(report);
        page.write();
        return page.page.end();
    }

    private void write() {
        page.paragraph(
                "small",
                "Of agent "
                        + report.key().agent()
                        + ", "
                        + report.words(report.span())
                        + ", times in "
                        + report.wording().zone().getId());
        page.paragraph("small", report.load().words(report.wording()));
        report.survey().fold(this::surveyed, this::withheld);
        report.against().ifPresent(this::against);
        if (!report.probes().isEmpty()) {
            page.element("h2", "Probes");
            report.probes()
                    .forEach(probe -> page.paragraph("small", probe.words(report.wording())));
        }
        page.paragraph(
                "small",
                "Every ± is for 95 % and counts in the probes' own errors and how far neighbouring"
                        + " readings depend on each other. Quantities are named as in IEC 60068-3-5"
                        + " and DIN 12880.");
    }

    private SurveyResult withheld(SurveyResult.Withheld withheld) {
        reasons(withheld.reasons());
        return withheld;
    }

    private void reasons(List<Reason> reasons) {
        page.paragraph("verdict open", "No verdict.");
        reasons.forEach(reason -> page.paragraph("reason", reason.words()));
    }

    private SurveyResult surveyed(SurveyResult.Surveyed survey) {
        section("Temperature", survey.temperature(), survey.settledWords());
        survey.humidity().ifPresent(humidity -> section("Humidity", humidity, ""));
        survey.recovery()
                .ifPresent(
                        recovery -> {
                            page.element("h2", "After an opening of the door");
                            page.paragraph("reason", words.recovery(recovery));
                        });
        return survey;
    }

    private void section(String title, EvennessFigures figures, String note) {
        page.element("h2", title);
        page.paragraph(
                "verdict "
                        + figures.verdict()
                                .map(Verdict::answer)
                                .map(EvennessPage::kind)
                                .orElse("open"),
                words.verdict(figures));
        if (!note.isEmpty()) {
            page.paragraph("small", note);
        }
        page.pictures(CabinetPicture.of(figures, report.wording()));
        page.beginDefinitions();
        for (EvennessWords.Line line : words.lines(figures)) {
            page.definition(line.name(), line.words());
        }
        page.endDefinitions();
        table(figures);
    }

    private static String kind(Verdict.Answer answer) {
        return switch (answer) {
            case PASS -> "pass";
            case FAIL -> "fail";
            case NOT_PROVED -> "open";
        };
    }

    private void table(EvennessFigures figures) {
        page.beginTable("Point", "Mean", "Deviation", "Fluctuation", "From centre", "<Verdict");
        for (PointFigures point : figures.points()) {
            page.beginRow();
            page.cell(point.words());
            page.cell(report.wording().value(figures.measure(), point.mean()));
            page.cell(signed(figures, point.deviation()));
            page.cell(
                    "±"
                            + report.wording()
                                    .difference(figures.measure(), point.fluctuation().value()));
            page.cell(signed(figures, point.variationInSpace()));
            page.words(EvennessWords.remark(point));
            page.endRow();
        }
        page.endTable();
    }

    private String signed(EvennessFigures figures, Optional<Estimate> estimate) {
        return estimate.map(e -> report.wording().signed(figures.measure(), e.value())).orElse("");
    }

    private void against(EvennessReport.Against against) {
        page.element("h2", "Before and after");
        page.paragraph(
                "small",
                "Compared with "
                        + report.words(against.span())
                        + (against.isEarlier() ? ", before" : ", after")
                        + ". "
                        + against.load().words(report.wording()));
        against.loadsDiffer().ifPresent(words -> page.paragraph("reason", words));
        against.comparison()
                .ifPresentOrElse(
                        this::compared, () -> against.survey().fold(s -> s, this::withheld));
    }

    private void compared(ComparisonResult comparison) {
        comparison.fold(
                compared -> {
                    page.paragraph("verdict", compared.sentence());
                    page.beginDefinitions();
                    for (FigureChange change : compared.changes()) {
                        EvennessWords.Line line = words.line(change);
                        page.definition(line.name(), line.words());
                    }
                    page.endDefinitions();
                    compared.whyNoHumidity().ifPresent(why -> page.paragraph("small", why));
                    return compared;
                },
                withheld -> {
                    reasons(withheld.reasons());
                    return withheld;
                });
    }
}
