package io.evenwarm.monitor.app;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.SystemClock;
import io.evenwarm.monitor.evenness.ProbeCheck;
import io.evenwarm.monitor.evenness.ProbeCheckResult;
import io.evenwarm.monitor.evenness.ProbeEntry;
import io.evenwarm.monitor.evenness.ProbeRecord;
import io.evenwarm.monitor.evenness.Reason;
import io.evenwarm.monitor.evenness.Wording;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.HistoryQueries;
import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.monitor.store.StoreException;
import io.evenwarm.monitor.store.StoreOutside;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.PrintStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.ParentCommand;

/** {@code evenwarm probes check}: an ice point or a side-by-side check, step by step. */
@Command(
        name = "check",
        mixinStandardHelpOptions = true,
        versionProvider = Version.class,
        description = {
            "Compares probes with melting ice or with a reference beside them, step by step: put them"
                    + " together, wait until all have settled, keep each one's offset and its ± with the"
                    + " date. Stored readings are never rewritten; surveys take them with the offset in"
                    + " force at their time.",
            "Take the eggs out and switch the cabinet's heater off first: its agent steers by these"
                    + " probes, wherever they are.",
            "With --from and --to, of a check that is over: asks and waits for nothing.",
            "0 when offsets were found; 1 when not, or when they are not to be kept."
        })
final class ProbeCheckCommand implements Callable<Integer> {

    private static final int WAIT_MINUTES = 240;
    private static final int WAIT_MINUTES_MAX = 1440;

    @ParentCommand private @Nullable ProbesCommand probes;

    @Parameters(
            paramLabel = "CABINET",
            description = "its name; AGENT/CABINET where several agents have one of that name")
    private @Nullable String cabinet;

    @Mixin private ProbeCheckOptions options = new ProbeCheckOptions();

    @Option(
            names = "--since",
            paramLabel = "TIME",
            description = "since when the probes are together; without it this is asked")
    private @Nullable String since;

    @Mixin private SpanOptions span = new SpanOptions();

    @Option(
            names = "--wait",
            paramLabel = "MINUTES",
            description = "for so long at most, 20 to 1440; by default ${DEFAULT-VALUE}")
    private int waitMinutes = WAIT_MINUTES;

    @Option(names = "--yes", description = "answer every question with yes")
    private boolean isYes;

    @Option(names = "--preview", description = "keep nothing, and ask nothing")
    private boolean isPreview;

    @Option(names = "--json", description = "print one JSON object")
    private boolean asJson;

    private final MonotonicClock clock = SystemClock.monotonic();
    private final BufferedReader input;

    ProbeCheckCommand() {
        this(System.in);
    }

    ProbeCheckCommand(InputStream input) {
        this.input = new BufferedReader(new InputStreamReader(input, StandardCharsets.UTF_8));
    }

    /** What is needed all along. */
    private record Work(
            StoreOutside store, HistoryQueries history, ProbeCheckPlan plan, Wording wording) {}

    private PrintStream err() {
        return Parents.given(probes).program().output().err();
    }

    @Override
    public Integer call() throws IOException {
        return Parents.given(probes).program().answer(this::answer);
    }

    private int answer(MonitorSettings settings) throws StoreException {
        StoreOutside store = settings.storeFromOutside();
        HistoryQueries history = store.history();
        if (waitMinutes < ProbeCheck.SETTLED_MINUTES || waitMinutes > WAIT_MINUTES_MAX) {
            throw new IllegalArgumentException(
                    "--wait must be 20 to " + WAIT_MINUTES_MAX + " min but was " + waitMinutes);
        }
        CabinetKey key = CabinetChoice.of(Parents.given(cabinet), history.cabinets());
        ProbeCheckPlan plan =
                options.plan(
                        key,
                        history,
                        store.probeRecord(),
                        ProbeTable.now(history, key, SystemClock.wall().now()));
        Work work = new Work(store, history, plan, settings.wording());
        Optional<TimeSpan> past = span.whole(work.wording().zone());
        return past.isPresent() ? finish(work, plan.check(history, past.get())) : live(work);
    }

    private int live(Work work) throws StoreException {
        err().println("Step 1 of 3: " + work.plan().instruction());
        Instant begin;
        if (since != null) {
            begin = Times.parse("--since", since, work.wording().zone());
        } else {
            if (!isYes && !isPreview && !ask("Press Enter when they are.").isPresent()) {
                err().println("Nobody is there to say so: give --since TIME.");
                return Evenwarm.FAILED;
            }
            begin = work.plan().newest(work.history());
        }
        err().println("Step 2 of 3: waiting until all have settled. Ctrl-C ends it.");
        Optional<ProbeCheckResult> settled = await(work, begin);
        return settled.isEmpty() ? Evenwarm.FAILED : finish(work, settled.get());
    }

    private Optional<ProbeCheckResult> await(Work work, Instant begin) {
        Optional<ProbeCheckResult> found =
                new LiveLook(
                                clock,
                                () -> work.plan().newest(work.history()),
                                Duration.ofMinutes(waitMinutes),
                                work.wording(),
                                err()::println)
                        .await(begin, now -> seen(work, begin, now));
        if (found.isEmpty()) {
            err().println("Not settled within " + waitMinutes + " min; nothing was kept.");
        }
        return found;
    }

    private static LiveLook.Seen<ProbeCheckResult> seen(Work work, Instant begin, Instant now) {
        ProbeCheckResult result = work.plan().checkUntil(work.history(), begin, now);
        List<Reason> reasons =
                result.fold(checked -> List.of(), ProbeCheckResult.Withheld::reasons);
        return new LiveLook.Seen<>(
                reasons.isEmpty() ? Optional.of(result) : Optional.empty(),
                reasons.stream().map(Reason::words).collect(Collectors.joining(" ")));
    }

    private int finish(Work work, ProbeCheckResult result) throws StoreException {
        List<Reason> reasons =
                result.fold(checked -> List.of(), ProbeCheckResult.Withheld::reasons);
        if (!reasons.isEmpty()) {
            reasons.forEach(reason -> err().println(reason.words()));
            return Evenwarm.FAILED;
        }
        List<ProbeEntry> entries = work.plan().entries(result);
        ProbeRecord record = work.store().probeRecord();
        PrintStream out = Parents.given(probes).program().output().out();
        if (!asJson) {
            work.plan().lines(entries, record, work.wording()).forEach(out::println);
        }
        boolean isKept = !isPreview && (isYes || isKept());
        if (isKept) {
            work.store().addProbeEntries(entries);
        }
        if (asJson) {
            out.println(work.plan().json(entries, record, work.wording(), isKept));
        } else {
            out.println(isKept ? "Kept." : "Not kept.");
        }
        return isKept || isPreview ? Evenwarm.OK : Evenwarm.FAILED;
    }

    private boolean isKept() {
        return ask("Step 3 of 3: keep these offsets? yes or no:")
                .map(line -> line.strip().toLowerCase(Locale.ROOT))
                .filter(word -> word.equals("yes") || word.equals("y"))
                .isPresent();
    }

    /** What a person answers; empty where nobody can be asked. */
    private Optional<String> ask(String question) {
        err().println(question);
        try {
            return Optional.ofNullable(input.readLine());
        } catch (IOException e) {
            throw new UncheckedIOException("the answer can't be read", e);
        }
    }
}
