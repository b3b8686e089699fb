package io.evenwarm.monitor.app;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.SystemClock;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.store.DrillReport;
import io.evenwarm.monitor.store.StoreException;
import io.evenwarm.monitor.store.StoreOutside;
import java.io.PrintStream;
import java.time.Duration;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.Callable;
import java.util.concurrent.TimeUnit;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.ParentCommand;

/**
 * {@code evenwarm drill}. Asks by the store, which is all that it shares with the running monitor
 * whatever that one serves, and reads there how far the drill has come.
 */
@Command(
        name = "drill",
        mixinStandardHelpOptions = true,
        versionProvider = Version.class,
        description = {
            "Has the running monitor raise a marked exercise alarm at a cabinet, as pressing as there"
                    + " is, and tell people of it by all that a real one takes. Ends when somebody"
                    + " acknowledges it, and prints how long each leg took.",
            "Ctrl-C cancels it. 0 when it was acknowledged, else 1."
        })
final class DrillCommand implements Callable<Integer> {

    private static final int MINUTES = 30;
    private static final int MINUTES_MAX = 240;
    private static final Duration TAKEN_UP_MAX = Duration.ofSeconds(15);
    private static final Duration END_MAX = Duration.ofSeconds(5);
    private static final long LOOK_MILLIS = 200;

    @ParentCommand private @Nullable Evenwarm evenwarm;

    @Parameters(
            paramLabel = "CABINET",
            description = "its name; AGENT/CABINET where several agents have one of that name")
    private @Nullable String cabinet;

    @Option(
            names = "--minutes",
            paramLabel = "N",
            description =
                    "how long somebody has to acknowledge it, 1 to 240; by default"
                            + " ${DEFAULT-VALUE}")
    private int minutes = MINUTES;

    @Option(names = "--json", description = "print one JSON object")
    private boolean asJson;

    private final MonotonicClock clock = SystemClock.monotonic();

    @Override
    public Integer call() throws StoreException {
        Evenwarm program = Parents.of(evenwarm);
        PrintStream err = program.output().err();
        if (minutes < 1 || minutes > MINUTES_MAX) {
            err.println("--minutes must be 1 to " + MINUTES_MAX + " but was " + minutes);
            return Evenwarm.BAD_INPUT;
        }
        Optional<MonitorSettings> settings = program.settings();
        if (settings.isEmpty()) {
            return Evenwarm.BAD_INPUT;
        }
        if (settings.get().notices().plan().chain().isEmpty()) {
            err.println(
                    "There is nobody to tell: put [[person]] and [[channel]] into "
                            + program.settingsPath());
            return Evenwarm.BAD_INPUT;
        }
        StoreOutside store = settings.get().storeFromOutside();
        CabinetKey key;
        try {
            key = CabinetChoice.of(Parents.given(cabinet), store.history().cabinets());
        } catch (IllegalArgumentException e) {
            err.println(e.getMessage());
            return Evenwarm.BAD_INPUT;
        }
        UUID id = UUID.randomUUID();
        try (Closing closing = Closing.atExit()) {
            closing.add(() -> endIfOpen(store, id, err));
            store.askDrill(id, key, SystemClock.wall().now(), Duration.ofMinutes(minutes));
            err.println(
                    "A drill of "
                            + CabinetChoice.full(key)
                            + " was asked for. Acknowledge the notice when it comes; Ctrl-C"
                            + " cancels.");
            DrillReport report = await(store, id);
            if (report.taken().isEmpty() && report.ended().isEmpty()) {
                store.cancelDrill(id);
                err.println(
                        "No running monitor took it up within "
                                + TAKEN_UP_MAX.toSeconds()
                                + " s. Is one running with these settings, and is no other drill"
                                + " under way? It is cancelled.");
                return Evenwarm.FAILED;
            }
            DrillText text = new DrillText(key, report);
            program.output()
                    .out()
                    .print(asJson ? text.json() + "\n" : text.lines(settings.get().zone()));
            return report.acknowledged().isPresent() ? Evenwarm.OK : Evenwarm.FAILED;
        }
    }

    /** Until it has ended, or nobody took it up. */
    private DrillReport await(StoreOutside store, UUID id) throws StoreException {
        long began = clock.nanos();
        DrillReport report = store.drill(id);
        while (report.ended().isEmpty()) {
            boolean isLate = clock.nanos() - began > TAKEN_UP_MAX.toNanos();
            if (report.taken().isEmpty() && isLate) {
                return report;
            }
            try {
                TimeUnit.MILLISECONDS.sleep(LOOK_MILLIS);
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
                return report;
            }
            report = store.drill(id);
        }
        return report;
    }

    /** On the way out, by Ctrl-C too. */
    private void endIfOpen(StoreOutside store, UUID id, PrintStream err) {
        try {
            if (store.drill(id).ended().isPresent()) {
                return;
            }
            store.cancelDrill(id);
            long began = clock.nanos();
            while (store.drill(id).ended().isEmpty() && clock.nanos() - began < END_MAX.toNanos()) {
                TimeUnit.MILLISECONDS.sleep(LOOK_MILLIS);
            }
            err.println("The drill is cancelled.");
        } catch (StoreException e) {
            err.println("The drill can't be cancelled, and ends by itself: " + e.getMessage());
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }
}
