package io.evenwarm.monitor.exchange;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.Reading;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.ProbeCurve;
import io.evenwarm.monitor.history.ReadingSink;
import io.evenwarm.monitor.history.ReadingSource;
import io.evenwarm.monitor.history.StoredReading;
import io.evenwarm.quantity.RelativeHumidity;
import io.evenwarm.quantity.Temperature;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.DateTimeException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Iterator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Consumer;
import org.apache.commons.csv.CSVException;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVPrinter;
import org.apache.commons.csv.CSVRecord;

/**
 * Readings as lines of CSV. Our own form says everything in the line; of another logger's the
 * columns are named from outside. A line that is no reading is told and passed over, never guessed
 * at.
 */
public final class ReadingsCsv {

    /** The columns of our own form. */
    static final List<String> HEADER =
            List.of("time", "agent", "cabinet", "probe", "position", "unit", "value", "doubt");

    private static final String CELSIUS = "celsius";
    private static final String PERCENT = "percent-relative-humidity";

    private static final char BYTE_ORDER_MARK = '\uFEFF';

    /** Turns one line into readings. */
    @FunctionalInterface
    private interface Line {
        List<StoredReading> readings(CSVRecord line) throws LineException;
    }

    private ReadingsCsv() {}

    /** Writes readings in our own form; times in UTC. */
    public static void write(ReadingSource source, Appendable out) throws IOException {
        CSVPrinter printer =
                new CSVPrinter(out, CSVFormat.RFC4180.builder().setRecordSeparator('\n').get());
        printer.printRecord(HEADER);
        source.into(
                reading ->
                        printer.printRecord(
                                Instant.ofEpochMilli(reading.epochMillis()),
                                reading.key().agent().value(),
                                reading.key().cabinet().value(),
                                reading.probe().value(),
                                reading.place().label(),
                                reading.unit().map(ReadingsCsv::word).orElse(""),
                                reading.value().isPresent()
                                        ? Double.toString(reading.value().getAsDouble())
                                        : "",
                                reading.doubt().map(ReadingsCsv::word).orElse("")));
    }

    private static String word(ProbeCurve.Unit unit) {
        return unit == ProbeCurve.Unit.CELSIUS ? CELSIUS : PERCENT;
    }

    private static String word(Reading.Doubt doubt) {
        return doubt.name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    /** Reads a file of our own form. */
    public static void readOwn(Path file, ReadingSink sink, Consumer<RejectedLine> rejected)
            throws IOException {
        read(file, StandardCharsets.UTF_8, ',', HEADER, line -> List.of(own(line)), sink, rejected);
    }

    /** Reads a file of another logger's. */
    public static void readLogger(
            Path file, LoggerForm form, ReadingSink sink, Consumer<RejectedLine> rejected)
            throws IOException {
        LoggerTime times = new LoggerTime(form.timeForm(), form.zone());
        List<String> columns = new ArrayList<>(form.probes().keySet());
        columns.add(0, form.timeColumn());
        read(
                file,
                form.charset(),
                form.separator(),
                columns,
                line -> foreign(line, form, times),
                sink,
                rejected);
    }

    private static void read(
            Path file,
            Charset charset,
            char separator,
            List<String> needed,
            Line form,
            ReadingSink sink,
            Consumer<RejectedLine> rejected)
            throws IOException {
        CSVFormat format =
                CSVFormat.RFC4180
                        .builder()
                        .setDelimiter(separator)
                        .setHeader()
                        .setSkipHeaderRecord(true)
                        .setIgnoreEmptyLines(true)
                        .setIgnoreSurroundingSpaces(true)
                        .get();
        try (BufferedReader text =
                new BufferedReader(
                        new InputStreamReader(Files.newInputStream(file), charset.newDecoder()))) {
            skipByteOrderMark(text);
            try (CSVParser parser = CSVParser.parse(text, format)) {
                requireColumns(file, separator, needed, parser.getHeaderNames());
                Iterator<CSVRecord> lines = parser.iterator();
                while (lines.hasNext()) {
                    CSVRecord line = lines.next();
                    take(line, parser.getCurrentLineNumber(), form, sink, rejected);
                }
            } catch (UncheckedIOException e) {
                throw e.getCause() == null ? new IOException(e) : e.getCause();
            }
        } catch (CharacterCodingException e) {
            throw new FormException(
                    file
                            + " is not text in "
                            + charset
                            + ": name its encoding, for example --charset ISO-8859-1",
                    e);
        } catch (CSVException | IllegalArgumentException e) {
            throw new FormException(file + " is no CSV: " + e.getMessage(), e);
        }
    }

    private static void skipByteOrderMark(BufferedReader text) throws IOException {
        text.mark(1);
        if (text.read() != BYTE_ORDER_MARK) {
            text.reset();
        }
    }

    private static void requireColumns(
            Path file, char separator, List<String> needed, List<String> found)
            throws FormException {
        for (String column : needed) {
            if (!found.contains(column)) {
                throw new FormException(
                        file
                                + ", line 1: expected a column \""
                                + column
                                + "\" but found "
                                + (found.isEmpty()
                                        ? "nothing"
                                        : "\"" + String.join("\", \"", found) + "\"")
                                + ", separated by \""
                                + separator
                                + "\"");
            }
        }
    }

    private static void take(
            CSVRecord line,
            long number,
            Line form,
            ReadingSink sink,
            Consumer<RejectedLine> rejected)
            throws IOException {
        try {
            if (!line.isConsistent()) {
                throw new LineException(
                        "expected "
                                + line.getParser().getHeaderNames().size()
                                + " columns but found "
                                + line.size());
            }
            for (StoredReading reading : form.readings(line)) {
                sink.accept(reading);
            }
        } catch (LineException e) {
            rejected.accept(new RejectedLine(number, String.valueOf(e.getMessage())));
        }
    }

    private static StoredReading own(CSVRecord line) throws LineException {
        Optional<ProbeCurve.Unit> unit =
                switch (line.get("unit")) {
                    case CELSIUS -> Optional.of(ProbeCurve.Unit.CELSIUS);
                    case PERCENT -> Optional.of(ProbeCurve.Unit.PERCENT_RELATIVE_HUMIDITY);
                    case "" -> Optional.empty();
                    default ->
                            throw LineException.of(
                                    "unit", line.get("unit"), CELSIUS + " or " + PERCENT);
                };
        Optional<Reading.Doubt> doubt = doubt(line.get("doubt"));
        OptionalDouble value = OptionalDouble.empty();
        if (!line.get("value").isEmpty()) {
            if (unit.isEmpty()) {
                throw LineException.of("unit", "", CELSIUS + " or " + PERCENT);
            }
            value =
                    OptionalDouble.of(
                            checked("value", number("value", line.get("value")), unit.get()));
        } else if (doubt.isEmpty()) {
            throw LineException.of("value", "", "a number, or a doubt that says why there is none");
        }
        return new StoredReading(
                new CabinetKey(
                        named("agent", line.get("agent"), AgentName::new),
                        named("cabinet", line.get("cabinet"), CabinetName::new)),
                named("probe", line.get("probe"), ProbeName::new),
                named("position", line.get("position"), ProbePlace::of),
                unit,
                time(line.get("time")),
                value,
                doubt);
    }

    private static long time(String text) throws LineException {
        try {
            return Instant.parse(text).toEpochMilli();
        } catch (DateTimeException | ArithmeticException e) {
            throw LineException.of("time", text, "a time such as 2026-03-01T12:00:00Z");
        }
    }

    private static Optional<Reading.Doubt> doubt(String text) throws LineException {
        if (text.isEmpty()) {
            return Optional.empty();
        }
        List<String> words = new ArrayList<>();
        for (Reading.Doubt doubt : Reading.Doubt.values()) {
            if (word(doubt).equals(text)) {
                return Optional.of(doubt);
            }
            words.add(word(doubt));
        }
        throw LineException.of("doubt", text, "nothing or one of " + String.join(", ", words));
    }

    /** The names' own rules decide. */
    @FunctionalInterface
    private interface Named<T> {
        T of(String text);
    }

    private static <T> T named(String column, String text, Named<T> named) throws LineException {
        try {
            return named.of(text);
        } catch (IllegalArgumentException e) {
            throw new LineException(column + ": " + e.getMessage());
        }
    }

    private static List<StoredReading> foreign(CSVRecord line, LoggerForm form, LoggerTime times)
            throws LineException {
        long time = times.epochMillis(form.timeColumn(), line.get(form.timeColumn()));
        List<StoredReading> readings = new ArrayList<>();
        for (Map.Entry<String, ProbeName> column : form.probes().entrySet()) {
            String text = line.get(column.getKey()).strip();
            if (text.isEmpty()) {
                continue;
            }
            double number =
                    number(column.getKey(), form.decimalComma() ? text.replace(',', '.') : text);
            boolean isHumidity = form.unit() == LoggerForm.Unit.PERCENT_RELATIVE_HUMIDITY;
            ProbeCurve.Unit unit =
                    isHumidity
                            ? ProbeCurve.Unit.PERCENT_RELATIVE_HUMIDITY
                            : ProbeCurve.Unit.CELSIUS;
            double value = form.unit() == LoggerForm.Unit.FAHRENHEIT ? (number - 32) / 1.8 : number;
            readings.add(
                    new StoredReading(
                            form.key(),
                            column.getValue(),
                            ProbePlace.of(column.getValue().value()),
                            Optional.of(unit),
                            time,
                            OptionalDouble.of(checked(column.getKey(), value, unit)),
                            Optional.empty()));
        }
        return readings;
    }

    private static double number(String column, String text) throws LineException {
        try {
            return Double.parseDouble(text);
        } catch (NumberFormatException e) {
            throw LineException.of(column, text, "a number");
        }
    }

    /** The quantity's own range decides. */
    private static double checked(String column, double value, ProbeCurve.Unit unit)
            throws LineException {
        try {
            return unit == ProbeCurve.Unit.CELSIUS
                    ? Temperature.ofCelsius(value).celsius()
                    : RelativeHumidity.ofPercent(value).percent();
        } catch (IllegalArgumentException e) {
            throw new LineException(column + ": " + e.getMessage());
        }
    }
}
