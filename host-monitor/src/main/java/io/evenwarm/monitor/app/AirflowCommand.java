package io.evenwarm.monitor.app;

import io.evenwarm.clock.SystemClock;
import io.evenwarm.monitor.evenness.AirFlow;
import io.evenwarm.monitor.evenness.AirWords;
import io.evenwarm.monitor.evenness.CabinetAir;
import io.evenwarm.monitor.evenness.Wording;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.HistoryQueries;
import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.monitor.report.AirHistory;
import io.evenwarm.monitor.store.StoreOutside;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.time.ZoneId;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.ParentCommand;

/** {@code evenwarm airflow}: does the fan still move the air as it did? */
@Command(
        name = "airflow",
        mixinStandardHelpOptions = true,
        versionProvider = Version.class,
        description = {
            "Says from a cabinet's history whether its fan still moves the air as it did when the"
                    + " cabinet was learned, and whether its probes still agree. Works while a monitor"
                    + " runs.",
            "It learns from --anew on, or from the first reading; with --from, this once, from"
                    + " then on.",
            "0 when the air flow is steady; 1 when it is not, or when there is no verdict yet."
        })
final class AirflowCommand implements Callable<Integer> {

    private static final int WHY_LENGTH_MAX = 200;

    @ParentCommand private @Nullable Evenwarm evenwarm;

    @Parameters(
            paramLabel = "CABINET",
            description = "its name; AGENT/CABINET where several agents have one of that name")
    private @Nullable String cabinet;

    @Mixin private SpanOptions span = new SpanOptions();

    @Option(
            names = "--anew",
            paramLabel = "WHY",
            description =
                    "keep that the cabinet is to be learned anew, after a new fan, or a shelf or"
                            + " probe that was moved")
    private @Nullable String anew;

    @Option(
            names = "--at",
            paramLabel = "TIME",
            description = "of --anew: since when; by default now")
    private @Nullable String at;

    @Option(names = "--csv", paramLabel = "FILE", description = "write the days into this new file")
    private @Nullable Path csv;

    @Mixin private AnswerForm form = new AnswerForm();

    @Override
    public Integer call() throws IOException {
        Evenwarm program = Parents.of(evenwarm);
        boolean isRefused = csv != null && !NewFiles.isNew(csv, program.output().err());
        if (isRefused || form.isRefused(program.output())) {
            return Evenwarm.BAD_INPUT;
        }
        return program.answer(this::answer);
    }

    private int answer(MonitorSettings settings) throws IOException {
        StoreOutside store = settings.storeFromOutside();
        Wording wording = settings.wording();
        CabinetKey key = CabinetChoice.of(Parents.given(cabinet), store.history().cabinets());
        return anew == null
                ? print(report(store, key, wording))
                : keepAnew(store, key, anew, wording);
    }

    private int keepAnew(StoreOutside store, CabinetKey key, String why, Wording wording)
            throws IOException {
        if (why.isBlank()
                || why.length() > WHY_LENGTH_MAX
                || why.chars().anyMatch(Character::isISOControl)) {
            throw new IllegalArgumentException(
                    "--anew must say why in 1 to " + WHY_LENGTH_MAX + " characters on one line");
        }
        if (span.hasBegin() || span.hasEnd()) {
            throw new IllegalArgumentException("--anew goes with --at, not with --from and --to");
        }
        Instant begin =
                at == null ? SystemClock.wall().now() : Times.parse("--at", at, wording.zone());
        store.addFlowBegin(key, begin, why);
        Parents.of(evenwarm)
                .output()
                .out()
                .println(
                        CabinetChoice.full(key)
                                + " is learned anew from "
                                + wording.time(begin)
                                + " on: "
                                + why);
        return Evenwarm.OK;
    }

    private AirFlowReport report(StoreOutside store, CabinetKey key, Wording wording)
            throws IOException {
        if (at != null) {
            throw new IllegalArgumentException("--at goes with --anew");
        }
        HistoryQueries history = store.history();
        ZoneId zone = wording.zone();
        TimeSpan extent =
                history.extent(key)
                        .orElseThrow(
                                () ->
                                        new IllegalArgumentException(
                                                CabinetChoice.full(key) + " has no history yet"));
        TimeSpan learned = span.within(extent, zone);
        CabinetAir air =
                new AirHistory(
                                key,
                                store.probeRecord(),
                                span.hasBegin() ? Optional.empty() : store.flowBegin(key))
                        .read(history, learned);
        return new AirFlowReport(key, learned.to(), air, wording);
    }

    private int print(AirFlowReport report) throws IOException {
        if (csv != null) {
            NewFiles.write(csv, report.csv());
        }
        form.give(
                Parents.of(evenwarm).output(),
                report::page,
                report::json,
                () -> report.lines(new AirWords(report.wording())));
        AirFlow flow = report.air().flow();
        return flow.state().fold(learning -> false, steady -> true, weak -> false, stopped -> false)
                ? Evenwarm.OK
                : Evenwarm.FAILED;
    }
}
