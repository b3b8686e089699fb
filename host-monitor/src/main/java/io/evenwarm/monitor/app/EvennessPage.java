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
import io.evenwarm.monitor.web.Html;
import java.util.List;
import java.util.Optional;

/** A report of evenness as one HTML file to print or to keep: no script, nothing from elsewhere. */
final class EvennessPage {

    private final EvennessReport report;
    private final EvennessWords words;
    private final StringBuilder html = new StringBuilder(32_768);

    private EvennessPage(EvennessReport report) {
        this.report = report;
        words = new EvennessWords(report.wording());
    }

    static String of(EvennessReport report) {
        EvennessPage page = new EvennessPage(report);
        page.write();
        return page.html.toString();
    }

    private void write() {
        String title = "Evenness of cabinet " + report.key().cabinet();
        html.append(PageStyle.begin(Html.text(title)));
        element("h1", title);
        paragraph(
                "small",
                "Of agent "
                        + report.key().agent()
                        + ", "
                        + report.words(report.span())
                        + ", times in "
                        + report.wording().zone().getId());
        paragraph("small", report.load().words(report.wording()));
        report.survey().fold(this::surveyed, this::withheld);
        report.against().ifPresent(this::against);
        if (!report.probes().isEmpty()) {
            element("h2", "Probes");
            report.probes().forEach(probe -> paragraph("small", probe.words(report.wording())));
        }
        paragraph(
                "small",
                "Every ± is for 95 % and counts in the probes' own errors and how far neighbouring"
                        + " readings depend on each other. Quantities are named as in IEC 60068-3-5"
                        + " and DIN 12880.");
        html.append("</body></html>\n");
    }

    private void element(String tag, String text) {
        html.append('<').append(tag).append('>').append(Html.text(text));
        html.append("</").append(tag).append(">\n");
    }

    private void paragraph(String kind, String text) {
        html.append("<p class=\"").append(kind).append("\">").append(Html.text(text));
        html.append("</p>\n");
    }

    private SurveyResult withheld(SurveyResult.Withheld withheld) {
        reasons(withheld.reasons());
        return withheld;
    }

    private void reasons(List<Reason> reasons) {
        paragraph("verdict open", "No verdict.");
        reasons.forEach(reason -> paragraph("reason", reason.words()));
    }

    private SurveyResult surveyed(SurveyResult.Surveyed survey) {
        section("Temperature", survey.temperature(), survey.settledWords());
        survey.humidity().ifPresent(humidity -> section("Humidity", humidity, ""));
        survey.recovery()
                .ifPresent(
                        recovery -> {
                            element("h2", "After an opening of the door");
                            paragraph("reason", words.recovery(recovery));
                        });
        return survey;
    }

    private void section(String title, EvennessFigures figures, String note) {
        element("h2", title);
        paragraph(
                "verdict "
                        + figures.verdict()
                                .map(Verdict::answer)
                                .map(EvennessPage::kind)
                                .orElse("open"),
                words.verdict(figures));
        if (!note.isEmpty()) {
            paragraph("small", note);
        }
        html.append("<div class=\"pictures\">");
        html.append(Svg.of(CabinetPicture.of(figures, report.wording())));
        html.append("</div>\n<dl>");
        for (EvennessWords.Line line : words.lines(figures)) {
            html.append("<dt>").append(Html.text(line.name())).append("</dt><dd>");
            html.append(Html.text(line.words())).append("</dd>\n");
        }
        html.append("</dl>\n");
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
        html.append(
                "<table><tr><th>Point</th><th>Mean</th><th>Deviation</th><th>Fluctuation</th>"
                        + "<th>From centre</th><th class=\"words\">Verdict</th></tr>\n");
        for (PointFigures point : figures.points()) {
            html.append("<tr>");
            cell(point.words());
            cell(report.wording().value(figures.measure(), point.mean()));
            cell(signed(figures, point.deviation()));
            cell("±" + report.wording().difference(figures.measure(), point.fluctuation().value()));
            cell(signed(figures, point.variationInSpace()));
            html.append("<td class=\"words\">")
                    .append(Html.text(EvennessWords.remark(point)))
                    .append("</td></tr>\n");
        }
        html.append("</table>\n");
    }

    private void cell(String text) {
        html.append("<td>").append(Html.text(text)).append("</td>");
    }

    private String signed(EvennessFigures figures, Optional<Estimate> estimate) {
        return estimate.map(e -> report.wording().signed(figures.measure(), e.value())).orElse("");
    }

    private void against(EvennessReport.Against against) {
        element("h2", "Before and after");
        paragraph(
                "small",
                "Compared with "
                        + report.words(against.span())
                        + (against.isEarlier() ? ", before" : ", after")
                        + ". "
                        + against.load().words(report.wording()));
        against.loadsDiffer().ifPresent(words -> paragraph("reason", words));
        against.comparison()
                .ifPresentOrElse(
                        this::compared, () -> against.survey().fold(s -> s, this::withheld));
    }

    private void compared(ComparisonResult comparison) {
        comparison.fold(
                compared -> {
                    paragraph("verdict", compared.sentence());
                    html.append("<dl>");
                    for (FigureChange change : compared.changes()) {
                        EvennessWords.Line line = words.line(change);
                        html.append("<dt>").append(Html.text(line.name())).append("</dt><dd>");
                        html.append(Html.text(line.words())).append("</dd>\n");
                    }
                    html.append("</dl>\n");
                    return compared;
                },
                withheld -> {
                    reasons(withheld.reasons());
                    return withheld;
                });
    }
}
