package io.evenwarm.monitor.app;

import io.evenwarm.monitor.evenness.Estimate;
import io.evenwarm.monitor.evenness.EvennessFigures;
import io.evenwarm.monitor.evenness.EvennessWords;
import io.evenwarm.monitor.evenness.Measure;
import io.evenwarm.monitor.evenness.PointFigures;
import io.evenwarm.monitor.evenness.SurveyResult;
import java.io.IOException;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;

/** The points of a survey as CSV (RFC 4180), a line each: Celsius, kelvins, percent. */
final class EvennessCsv {

    private static final List<String> HEADER =
            List.of(
                    "probe",
                    "position",
                    "unit",
                    "mean",
                    "mean-uncertainty",
                    "deviation",
                    "fluctuation",
                    "half-hour-fluctuation",
                    "variation-in-space",
                    "greatest-deviation",
                    "greatest-deviation-uncertainty",
                    "independent-samples",
                    "spot",
                    "verdict");

    private EvennessCsv() {}

    static void write(SurveyResult.Surveyed survey, Appendable out) throws IOException {
        CSVPrinter printer =
                new CSVPrinter(out, CSVFormat.RFC4180.builder().setRecordSeparator('\n').get());
        printer.printRecord(HEADER);
        points(survey.temperature(), printer);
        if (survey.humidity().isPresent()) {
            points(survey.humidity().get(), printer);
        }
    }

    private static void points(EvennessFigures figures, CSVPrinter printer) throws IOException {
        for (PointFigures point : figures.points()) {
            printer.printRecord(
                    point.probe(),
                    point.position().label(),
                    figures.measure() == Measure.TEMPERATURE
                            ? "celsius"
                            : "percent-relative-humidity",
                    number(point.mean().value()),
                    number(point.mean().expanded()),
                    value(point.deviation()),
                    number(point.fluctuation().value()),
                    number(point.halfHourFluctuation()),
                    value(point.variationInSpace()),
                    value(point.greatestDeviation()),
                    point.greatestDeviation().map(e -> number(e.expanded())).orElse(""),
                    number(point.independentSamples()),
                    EvennessWords.words(point.spot()),
                    EvennessWords.words(point.verdict()).toLowerCase(Locale.ROOT));
        }
    }

    private static String value(Optional<Estimate> estimate) {
        return estimate.map(e -> number(e.value())).orElse("");
    }

    private static String number(double value) {
        return String.format(Locale.ROOT, "%.4f", value);
    }
}
