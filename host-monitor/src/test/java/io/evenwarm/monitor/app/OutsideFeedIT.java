package io.evenwarm.monitor.app;

import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.SystemClock;
import io.evenwarm.monitor.alarm.AlarmCodes;
import io.evenwarm.monitor.alarm.AlarmSettings;
import io.evenwarm.monitor.alarm.NewtonTimeLeft;
import io.evenwarm.monitor.alert.AlarmKeeper;
import io.evenwarm.monitor.live.LiveModel;
import io.evenwarm.monitor.store.HistoryStore;
import io.evenwarm.outside.FeedPlan;
import io.evenwarm.outside.SwitchFeed;
import io.evenwarm.testing.OutsideSwitch;
import io.evenwarm.testing.Programs;
import io.evenwarm.testing.Waiting;
import java.io.IOException;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** The outside switch that docs/ ship speaks when the monitor is gone, or unwell. */
@Tag("long")
@Timeout(240)
final class OutsideFeedIT {

    private static final int SECONDS_MAX = 100;

    private final MonotonicClock clock = SystemClock.monotonic();
    private final Path folder;
    private final Programs programs;
    private final OutsideSwitch outside;

    OutsideFeedIT(@TempDir Path folder) throws IOException {
        this.folder = folder;
        this.programs = new Programs(folder);
        this.outside = new OutsideSwitch(programs, folder, "the desk");
    }

    @AfterEach
    void endAll() {
        programs.close();
    }

    @Test
    void aMonitorThatIsKilledIsMissed() throws IOException, InterruptedException {
        outside.start(14);
        programs.secret("switch-address", outside.address() + "\n");
        Path settings = folder.resolve("monitor.toml");
        Files.writeString(
                settings,
                """
                [monitor]
                name = "the desk"
                data_folder = "data"
                [outside_switch]
                address_file = "switch-address"
                every_seconds = 10
                """);
        Process monitor =
                programs.start(
                        "monitor",
                        Programs.MONITOR.toString(),
                        "watch",
                        "--verbose",
                        "--settings",
                        settings.toString());
        programs.until(() -> programs.said("monitor").contains("is called"));
        assertFalse(
                programs.said("monitor").contains(OutsideSwitch.TOKEN), "the address is a secret");
        assertFalse(outside.isTold("SILENT: the desk"), "it was called");
        Programs.kill(monitor);
        long killedNanos = clock.nanos();
        programs.until(() -> outside.isTold("SILENT: the desk"));
        System.out.printf(
                "a switch with a limit of 14 s spoke %.1f s after the monitor was killed%n",
                (clock.nanos() - killedNanos) / 1e9);
    }

    @Test
    void aMonitorWhoseStoreTakesNothingStopsOnPurposeAndSaysSo() throws IOException, SQLException {
        outside.start(4);
        LiveModel live = new LiveModel(clock, List.of());
        Path data = folder.resolve("data");
        try (HistoryStore store = HistoryStore.open(data)) {
            MonitorFacts facts = new MonitorFacts(live, store, Optional.empty(), List::of);
            try (AlarmKeeper keeper =
                            AlarmKeeper.start(
                                    AlarmSettings.DEFAULT,
                                    new NewtonTimeLeft(NewtonTimeLeft.Assumptions.DEFAULT),
                                    Set.of(),
                                    new AlarmKeeper.Around(
                                            live,
                                            store.alarms(),
                                            Optional.empty(),
                                            facts,
                                            List::of),
                                    clock,
                                    SystemClock.wall());
                    SwitchFeed feed =
                            SwitchFeed.start(
                                    new FeedPlan(
                                            URI.create(outside.address()),
                                            Duration.ofSeconds(1),
                                            Optional.empty()),
                                    "the desk",
                                    new ChainWatch(store, keeper, Optional.empty()))) {
                facts.watch(feed);
                Waiting.until(SECONDS_MAX, () -> feed.state().fed(), () -> feed.state().toString());
                long failingNanos;
                try (Connection other =
                                DriverManager.getConnection(
                                        "jdbc:sqlite:" + data.resolve(HistoryStore.FILE_NAME));
                        Statement statement = other.createStatement()) {
                    statement.execute("BEGIN IMMEDIATE");
                    failingNanos = clock.nanos();
                    Waiting.until(
                            SECONDS_MAX,
                            () -> outside.isTold("SILENT: the desk"),
                            () -> feed.state().toString());
                    System.out.printf(
                            "a switch with a limit of 4 s spoke %.1f s after the store took nothing"
                                    + " any more%n",
                            (clock.nanos() - failingNanos) / 1e9);
                    Waiting.until(
                            SECONDS_MAX,
                            () -> feed.state().call() == SwitchFeed.Call.WITHHELD,
                            () -> feed.state().toString());
                    assertTrue(
                            feed.state().words().contains("on purpose: the store: can't write"),
                            feed.state().words());
                    Waiting.until(
                            SECONDS_MAX,
                            () -> has(keeper, AlarmCodes.STORE_FAILING.value()),
                            () -> keeper.alarms().toString());
                    statement.execute("ROLLBACK");
                }
                Waiting.until(
                        SECONDS_MAX,
                        () -> outside.isTold("Back: the desk"),
                        () -> feed.state().toString());
            }
        }
    }

    private static boolean has(AlarmKeeper keeper, String code) {
        return keeper.alarms().stream().anyMatch(alarm -> alarm.key().code().value().equals(code));
    }
}
