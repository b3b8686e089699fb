package io.evenwarm.monitor.app;

import io.evenwarm.monitor.evenness.ComparisonResult;
import io.evenwarm.monitor.evenness.EvennessReport;
import io.evenwarm.monitor.evenness.ProbeRecord;
import io.evenwarm.monitor.evenness.Stands;
import io.evenwarm.monitor.evenness.SurveyInput;
import io.evenwarm.monitor.evenness.SurveyLoad;
import io.evenwarm.monitor.evenness.SurveyQuestion;
import io.evenwarm.monitor.evenness.SurveyResult;
import io.evenwarm.monitor.evenness.SurveyWords;
import io.evenwarm.monitor.evenness.Verdict;
import io.evenwarm.monitor.evenness.Wording;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.HistoryQueries;
import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.monitor.store.StoreException;
import io.evenwarm.monitor.store.StoreOutside;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.file.Path;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.concurrent.Callable;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.ParentCommand;

/** {@code evenwarm evenness}: is a cabinet even, and is it more even than before? */
@Command(
        name = "evenness",
        mixinStandardHelpOptions = true,
        versionProvider = Version.class,
        description = {
            "Surveys how even a cabinet was over a span of its history, and compares two spans."
                    + " Works while a monitor runs.",
            "0 when every point is proved to keep the limit, or two spans were compared; 1 when not,"
                    + " or when there is no verdict."
        })
final class EvennessCommand implements Callable<Integer> {

    /** {@code top=-0.12:0.05}. */
    private static final Pattern OFFSET =
            Pattern.compile("(.+)=([+-]?\\d+(?:\\.\\d+)?):(\\d+(?:\\.\\d+)?)");

    private static final double OFFSET_KELVIN_MAX = 10;

    @ParentCommand private @Nullable Evenwarm evenwarm;

    @Parameters(
            paramLabel = "CABINET",
            description = "its name; AGENT/CABINET where several agents have one of that name")
    private @Nullable String cabinet;

    @Mixin private SpanOptions span = new SpanOptions();

    @Option(
            names = "--against",
            paramLabel = "TIME",
            arity = "2",
            description =
                    "begin and end of another span to compare with; the earlier one is before")
    private List<String> against = List.of();

    @Mixin private EvennessLive live = new EvennessLive();

    @Option(
            names = "--load",
            paramLabel = "WHICH",
            description =
                    "whether the cabinet was empty or loaded: ${COMPLETION-CANDIDATES}; kept for later"
                            + " surveys; by default what was said of that span before, else"
                            + " what the list of tubs says")
    private @Nullable LoadWord load;

    @Option(names = "--against-load", paramLabel = "WHICH", description = "the same of --against")
    private @Nullable LoadWord againstLoad;

    @Option(
            names = "--door",
            paramLabel = "TIME",
            description = "when the door was opened for 30 s on purpose: gives the settling time")
    private @Nullable String door;

    @Option(
            names = "--positions",
            paramLabel = "FILE",
            description =
                    "a CSV file that says where probes stood that were moved: probe,position,from,to;"
                            + " position out where one was taken out; kept for later surveys")
    private @Nullable Path positions;

    @Option(
            names = "--without",
            paramLabel = "PROBE",
            description = "leave a probe out; may be said again")
    private List<String> without = List.of();

    @Option(
            names = "--set-point",
            paramLabel = "CELSIUS",
            description = "in place of the history's")
    private @Nullable Double setPointCelsius;

    @Option(
            names = "--limit",
            paramLabel = "KELVIN",
            description = "of the deviation from the set point; by default 0.5 (DIN 12880)")
    private double limitKelvin = SurveyInput.DIN_12880_KELVIN;

    @Option(
            names = "--humidity-limit",
            paramLabel = "PERCENT",
            description = "of the deviation from the mean humidity; by default none")
    private @Nullable Double humidityLimitPercent;

    @Option(
            names = "--accuracy",
            paramLabel = "KELVIN",
            description =
                    "the thermometers' datasheet error ±; by default by the sensor that each one's"
                            + " agent names")
    private @Nullable Double accuracyKelvin;

    @Option(
            names = "--resolution",
            paramLabel = "KELVIN",
            description = "the thermometers' smallest step; by default by the sensor")
    private @Nullable Double resolutionKelvin;

    @Option(
            names = "--offset",
            paramLabel = "PROBE=K:±K",
            description =
                    "what a comparison found is to be added to a probe, and its ± for 95 %%, for"
                            + " example top=-0.12:0.05, in place of what the record of checks"
                            + " has; may be said again")
    private List<String> offsets = List.of();

    @Option(
            names = "--as-bought",
            description = "leave the record of checks (evenwarm probes) out of account")
    private boolean asBought;

    @Option(
            names = "--csv",
            paramLabel = "FILE",
            description = "write the points' figures into this new file")
    private @Nullable Path csv;

    @Mixin private AnswerForm form = new AnswerForm();

    /** As a person writes it. */
    private enum LoadWord {
        EMPTY(SurveyLoad.Kind.EMPTY),
        LOADED(SurveyLoad.Kind.LOADED);

        private final SurveyLoad.Kind kind;

        LoadWord(SurveyLoad.Kind kind) {
            this.kind = kind;
        }

        @Override
        public String toString() {
            return name().toLowerCase(Locale.ROOT);
        }
    }

    private static Optional<SurveyLoad.Kind> kind(@Nullable LoadWord word) {
        return Optional.ofNullable(word).map(given -> given.kind);
    }

    private Evenwarm program() {
        return Parents.of(evenwarm);
    }

    @Override
    public Integer call() throws IOException {
        PrintStream err = program().output().err();
        if ((csv != null && !NewFiles.isNew(csv, err)) || form.isRefused(program().output())) {
            return Evenwarm.BAD_INPUT;
        }
        Optional<MonitorSettings> settings = program().settings();
        if (settings.isEmpty()) {
            return Evenwarm.BAD_INPUT;
        }
        EvennessLive.Outcome outcome;
        try {
            outcome = outcome(settings.get());
        } catch (IllegalArgumentException e) {
            err.println(e.getMessage());
            return Evenwarm.BAD_INPUT;
        }
        print(outcome.report());
        return outcome.isWhole() ? exitCode(outcome.report()) : Evenwarm.FAILED;
    }

    private EvennessLive.Outcome outcome(MonitorSettings settings) throws IOException {
        live.requireNothingWithoutLive();
        StoreOutside store = settings.storeFromOutside();
        HistoryQueries history = store.history();
        CabinetKey key = CabinetChoice.of(Parents.given(cabinet), history.cabinets());
        Stands said =
                positions == null ? Stands.NONE : PositionsFile.read(positions, settings.zone());
        SurveyWords before = store.surveyWords();
        Stands stands =
                live.isLive() || door != null ? Stands.NONE : said.over(before.standsIn(key));
        SurveyQuestion question = question(store, before, stands, settings.wording());
        EvennessLive.Outcome outcome =
                live.isLive()
                        ? live(settings.zone(), question, history, key)
                        : new EvennessLive.Outcome(
                                past(settings.zone(), question, history, key), true);
        keep(store, outcome.report(), said);
        return outcome;
    }

    /** What was said of the surveys, for later ones. */
    private void keep(StoreOutside store, EvennessReport report, Stands said) {
        List<SurveyWords.Load> loads = new ArrayList<>();
        kind(load)
                .ifPresent(
                        its -> loads.add(new SurveyWords.Load(report.key(), report.span(), its)));
        report.against()
                .ifPresent(
                        other ->
                                kind(againstLoad)
                                        .ifPresent(
                                                its ->
                                                        loads.add(
                                                                new SurveyWords.Load(
                                                                        report.key(),
                                                                        other.span(),
                                                                        its))));
        if (loads.isEmpty() && said.all().isEmpty()) {
            return;
        }
        try {
            store.addSurveyWords(loads, report.key(), said);
        } catch (StoreException e) {
            program()
                    .output()
                    .err()
                    .println(
                            "What you said of the load or of positions was not kept for later"
                                    + " surveys: "
                                    + e.getMessage());
        }
    }

    private EvennessLive.Outcome live(
            ZoneId zone, SurveyQuestion question, HistoryQueries history, CabinetKey key) {
        if (span.hasEnd() || door != null || positions != null || !against.isEmpty()) {
            throw new IllegalArgumentException(
                    "--to, --door, --positions and --against are of spans that are over: they don't"
                            + " go with --live");
        }
        return live.await(question, history, key, span.begin(zone), program().output().err());
    }

    private EvennessReport past(
            ZoneId zone, SurveyQuestion question, HistoryQueries history, CabinetKey key) {
        if (!span.hasBegin() || !span.hasEnd()) {
            throw new IllegalArgumentException(
                    "--from TIME and --to TIME say which span to survey; or give --live");
        }
        TimeSpan surveyed = span.whole(zone).orElseThrow();
        Optional<TimeSpan> other =
                against.isEmpty()
                        ? Optional.empty()
                        : Optional.of(
                                Times.span(
                                        "--against's first time",
                                        against.get(0),
                                        "--against's second time",
                                        against.get(1),
                                        zone));
        if (door != null && positions != null) {
            throw new IllegalArgumentException(
                    "--door and --positions don't go together: survey the opening of the door by"
                            + " itself, while no probe is moved");
        }
        Optional<Instant> opened =
                Optional.ofNullable(door).map(text -> Times.parse("--door", text, zone));
        return EvennessReport.of(
                question,
                history.everyReading(key, surveyed),
                opened,
                other.map(there -> history.everyReading(key, there)));
    }

    private SurveyQuestion question(
            StoreOutside store, SurveyWords before, Stands stands, Wording wording)
            throws IOException {
        Map<String, SurveyQuestion.Offset> found = new HashMap<>();
        for (String offset : offsets) {
            Matcher matcher = OFFSET.matcher(offset);
            if (!matcher.matches()
                    || Math.abs(Double.parseDouble(matcher.group(2))) > OFFSET_KELVIN_MAX) {
                throw new IllegalArgumentException(
                        "--offset must be PROBE=K:±K such as top=-0.12:0.05, at most "
                                + OFFSET_KELVIN_MAX
                                + " K, but was \""
                                + offset
                                + "\"");
            }
            found.put(
                    matcher.group(1),
                    new SurveyQuestion.Offset(
                            Double.parseDouble(matcher.group(2)),
                            Double.parseDouble(matcher.group(3))));
        }
        return new SurveyQuestion(
                Set.copyOf(without),
                optional(resolutionKelvin),
                optional(accuracyKelvin),
                found,
                asBought
                        ? new ProbeRecord(List.of(), store.probeRecord().sensors())
                        : store.probeRecord(),
                optional(setPointCelsius),
                limitKelvin,
                optional(humidityLimitPercent),
                new SurveyLoad.Known(kind(load), kind(againstLoad), before, store.tubs(true)),
                stands,
                wording);
    }

    private static OptionalDouble optional(@Nullable Double value) {
        return value == null ? OptionalDouble.empty() : OptionalDouble.of(value);
    }

    private void print(EvennessReport report) throws IOException {
        if (csv != null) {
            StringBuilder text = new StringBuilder();
            Optional<SurveyResult.Surveyed> survey =
                    report.survey().fold(Optional::of, withheld -> Optional.empty());
            if (survey.isPresent()) {
                EvennessCsv.write(survey.get(), text);
                NewFiles.write(csv, text.toString());
            }
        }
        form.give(
                program().output(),
                () -> EvennessPage.of(report),
                () -> EvennessJson.of(report),
                () -> EvennessText.of(report));
    }

    private static int exitCode(EvennessReport report) {
        if (report.against().isPresent()) {
            return report.against()
                            .get()
                            .comparison()
                            .filter(ComparisonResult.Compared.class::isInstance)
                            .isPresent()
                    ? Evenwarm.OK
                    : Evenwarm.FAILED;
        }
        return report.survey()
                .fold(
                        survey ->
                                survey.temperature()
                                                .verdict()
                                                .map(Verdict::answer)
                                                .filter(answer -> answer != Verdict.Answer.PASS)
                                                .isPresent()
                                        ? Evenwarm.FAILED
                                        : Evenwarm.OK,
                        withheld -> Evenwarm.FAILED);
    }
}
