package io.evenwarm.monitor.app;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.ProbeName;
import io.evenwarm.monitor.exchange.FormException;
import io.evenwarm.monitor.exchange.LoggerForm;
import io.evenwarm.monitor.exchange.ReadingsCsv;
import io.evenwarm.monitor.exchange.RejectedLine;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.ImportCount;
import io.evenwarm.monitor.history.ProbeCurve;
import io.evenwarm.monitor.history.ReadingSink;
import io.evenwarm.monitor.history.StoredReading;
import io.evenwarm.monitor.store.HistoryStore;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.Charset;
import java.nio.charset.IllegalCharsetNameException;
import java.nio.charset.StandardCharsets;
import java.nio.charset.UnsupportedCharsetException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.DateTimeException;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.function.Consumer;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.ParentCommand;

/** {@code evenwarm readings import}. */
@Command(
        name = "import",
        mixinStandardHelpOptions = true,
        versionProvider = Version.class,
        description = {
            "Takes readings from a CSV file into the store: one that readings export wrote, or"
                    + " another logger's, whose columns are named by --time and --value.",
            "The file is read through first. With a line that is no reading nothing is stored,"
                    + " unless --skip-rejected. A reading that is there already is passed over. No"
                    + " monitor may use the store meanwhile."
        })
final class ReadingsImport implements Callable<Integer> {

    private static final int PREVIEW_LINES = 10;
    private static final int REJECTED_SHOWN = 20;

    @ParentCommand private @Nullable ReadingsCommand readings;

    @Parameters(paramLabel = "FILE", description = "the file to read")
    private @Nullable Path source;

    @Option(names = "--preview", description = "show what would be stored, and store nothing")
    private boolean isPreview;

    @Option(names = "--skip-rejected", description = "store the other lines nevertheless")
    private boolean skipsRejected;

    @Option(
            names = "--rejected",
            paramLabel = "FILE",
            description = "write all rejected lines into this new file")
    private @Nullable Path rejectedFile;

    @Option(names = "--time", paramLabel = "COLUMN", description = "the column with the time")
    private @Nullable String timeColumn;

    @Option(
            names = "--time-form",
            paramLabel = "PATTERN",
            description =
                    "how times are written: for example dd.MM.yyyy HH:mm:ss, epoch-seconds,"
                            + " epoch-millis; by default as 2026-03-01 12:00:00")
    private String timeForm = "";

    @Option(
            names = "--zone",
            paramLabel = "ZONE",
            description = "zone of times that don't say theirs; by default that of the settings")
    private @Nullable String zone;

    @Option(
            names = "--value",
            paramLabel = "COLUMN=PROBE",
            description = "a column with values, and the probe they are of; may come several times")
    private Map<String, String> valueColumns = new LinkedHashMap<>();

    @Option(
            names = "--unit",
            paramLabel = "UNIT",
            description = "of the values: C, F or percent (relative humidity); by default C")
    private String unit = "C";

    @Option(names = "--agent", paramLabel = "NAME", description = "whose cabinet they are of")
    private @Nullable String agent;

    @Option(names = "--cabinet", paramLabel = "NAME", description = "which cabinet they are of")
    private @Nullable String cabinet;

    @Option(
            names = "--separator",
            paramLabel = "CHARACTER",
            description = "between columns: by default a comma; tab for a tabulator")
    private String separator = ",";

    @Option(names = "--decimal-comma", description = "numbers are written as 31,5")
    private boolean decimalComma;

    @Option(
            names = "--charset",
            paramLabel = "NAME",
            description = "the file's encoding; by default ${DEFAULT-VALUE}")
    private String charset = "UTF-8";

    /** An option can't be what was said. */
    private static final class OptionException extends Exception {

        private static final long serialVersionUID = 1L;

        OptionException(String message) {
            super(message);
        }
    }

    /** Reads the whole file once. */
    @FunctionalInterface
    private interface Pass {
        void run(ReadingSink sink, Consumer<RejectedLine> rejected) throws IOException;
    }

    @Override
    public Integer call() throws IOException {
        Evenwarm program = Parents.given(readings).program();
        PrintStream err = program.output().err();
        Path file = Parents.given(source);
        if (!NewFiles.isReadable(file, err)
                || (rejectedFile != null && !NewFiles.isNew(rejectedFile, err))) {
            return Evenwarm.BAD_INPUT;
        }
        Optional<MonitorSettings> settings = program.settings();
        if (settings.isEmpty()) {
            return Evenwarm.BAD_INPUT;
        }
        try {
            return run(program.output(), settings.get(), pass(file, settings.get().zone()));
        } catch (OptionException | FormException e) {
            err.println(e.getMessage());
            return Evenwarm.BAD_INPUT;
        }
    }

    private Pass pass(Path file, ZoneId usualZone) throws OptionException {
        if (timeColumn == null && valueColumns.isEmpty()) {
            return (sink, rejected) -> ReadingsCsv.readOwn(file, sink, rejected);
        }
        LoggerForm form = form(usualZone);
        return (sink, rejected) -> ReadingsCsv.readLogger(file, form, sink, rejected);
    }

    private LoggerForm form(ZoneId usualZone) throws OptionException {
        String time = timeColumn;
        String ofAgent = agent;
        String ofCabinet = cabinet;
        if (time == null || valueColumns.isEmpty() || ofAgent == null || ofCabinet == null) {
            throw new OptionException(
                    "another logger's file needs --time COLUMN, --value COLUMN=PROBE, --agent NAME"
                            + " and --cabinet NAME");
        }
        try {
            Map<String, ProbeName> probes = new LinkedHashMap<>();
            valueColumns.forEach((column, probe) -> probes.put(column, new ProbeName(probe)));
            return new LoggerForm(
                    new CabinetKey(new AgentName(ofAgent), new CabinetName(ofCabinet)),
                    time,
                    timeForm,
                    zone == null ? usualZone : ZoneId.of(zone),
                    probes,
                    unit(),
                    separator(),
                    decimalComma,
                    Charset.forName(charset));
        } catch (DateTimeException e) {
            throw new OptionException(
                    "--zone must be a time zone's name, for example Europe/Berlin, but was "
                            + zone);
        } catch (IllegalCharsetNameException | UnsupportedCharsetException e) {
            throw new OptionException(
                    "--charset must be an encoding's name, for example ISO-8859-1, but was "
                            + charset);
        } catch (IllegalArgumentException e) {
            throw new OptionException(String.valueOf(e.getMessage()));
        }
    }

    private LoggerForm.Unit unit() throws OptionException {
        return switch (unit) {
            case "C" -> LoggerForm.Unit.CELSIUS;
            case "F" -> LoggerForm.Unit.FAHRENHEIT;
            case "percent" -> LoggerForm.Unit.PERCENT_RELATIVE_HUMIDITY;
            default -> throw new OptionException("--unit must be C, F or percent but was " + unit);
        };
    }

    private char separator() throws OptionException {
        String text = separator.equals("tab") ? "\t" : separator;
        if (text.length() != 1 || "\"\r\n".contains(text)) {
            throw new OptionException(
                    "--separator must be one character, or tab, but was \"" + separator + "\"");
        }
        return text.charAt(0);
    }

    /** What a first pass over the file found. */
    private static final class Findings {
        private final List<StoredReading> first = new ArrayList<>();
        private final List<RejectedLine> rejected = new ArrayList<>();
        private long readings;
        private long rejectedCount;

        void take(StoredReading reading) {
            readings++;
            if (first.size() < PREVIEW_LINES) {
                first.add(reading);
            }
        }

        void reject(RejectedLine line) {
            rejectedCount++;
            if (rejected.size() < REJECTED_SHOWN) {
                rejected.add(line);
            }
        }
    }

    private int run(Output output, MonitorSettings settings, Pass pass) throws IOException {
        Findings findings = new Findings();
        if (rejectedFile == null) {
            pass.run(findings::take, findings::reject);
        } else {
            try (PrintStream all =
                    new PrintStream(
                            Files.newOutputStream(rejectedFile), false, StandardCharsets.UTF_8)) {
                pass.run(
                        findings::take,
                        line -> {
                            findings.reject(line);
                            all.println(line.text());
                        });
            }
        }
        show(findings, output);
        boolean isStopped = findings.rejectedCount > 0 && !skipsRejected;
        if (isPreview || isStopped) {
            output.out().println("nothing was stored");
            return isStopped ? Evenwarm.BAD_INPUT : Evenwarm.OK;
        }
        try (HistoryStore store = settings.openStore()) {
            ImportCount count = store.importReadings(sink -> pass.run(sink, line -> {}));
            output.out()
                    .printf(
                            Locale.ROOT,
                            "%,d readings stored, %,d were there already%n",
                            count.stored(),
                            count.alreadyThere());
        }
        return Evenwarm.OK;
    }

    private void show(Findings findings, Output output) {
        if (isPreview) {
            findings.first.forEach(reading -> output.out().println(line(reading)));
        }
        output.out()
                .printf(
                        Locale.ROOT,
                        "%,d readings, %,d lines rejected%n",
                        findings.readings,
                        findings.rejectedCount);
        findings.rejected.forEach(line -> output.err().println(line.text()));
        long more = findings.rejectedCount - findings.rejected.size();
        if (more > 0) {
            output.err().println("and " + more + " more; --rejected FILE lists all");
        }
    }

    private static String line(StoredReading reading) {
        String value =
                reading.value().isEmpty()
                        ? "bad"
                        : String.format(
                                Locale.ROOT,
                                "%.3f %s",
                                reading.value().getAsDouble(),
                                reading.unit()
                                        .filter(u -> u == ProbeCurve.Unit.CELSIUS)
                                        .map(u -> "°C")
                                        .orElse("%"));
        return Instant.ofEpochMilli(reading.epochMillis())
                + "  "
                + reading.key().agent()
                + " / "
                + reading.key().cabinet()
                + " / "
                + reading.probe()
                + "  "
                + value;
    }
}
