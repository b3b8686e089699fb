package io.evenwarm.monitor.app;

import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.SystemClock;
import io.evenwarm.monitor.Waiting;
import io.evenwarm.monitor.alarm.AlarmCodes;
import io.evenwarm.monitor.alarm.AlarmSettings;
import io.evenwarm.monitor.alarm.NewtonTimeLeft;
import io.evenwarm.monitor.alert.AlarmKeeper;
import io.evenwarm.monitor.live.LiveModel;
import io.evenwarm.monitor.store.HistoryStore;
import io.evenwarm.outside.FeedPlan;
import io.evenwarm.outside.SwitchFeed;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** The outside switch that docs/ ship speaks when the monitor is gone, or unwell. */
@Tag("long")
@Timeout(240)
final class OutsideFeedIT {

    private static final Path MONITOR = Path.of("target/dist/bin/evenwarm").toAbsolutePath();
    private static final Path SWITCH =
            Path.of("..", "docs", "outside-switch", "outside_switch.py").toAbsolutePath();
    private static final String TOKEN = "a-token-of-sufficient-length";
    private static final int SECONDS_MAX = 100;

    private final MonotonicClock clock = SystemClock.monotonic();
    private final List<Process> started = new ArrayList<>();
    private final Path folder;
    private int port;

    OutsideFeedIT(@TempDir Path folder) {
        this.folder = folder;
    }

    @BeforeEach
    void needPython() {
        boolean isThere =
                Stream.of(System.getenv().getOrDefault("PATH", "").split(":"))
                        .anyMatch(each -> Files.isExecutable(Path.of(each, "python3")));
        Assumptions.assumeTrue(isThere, "not tested: install the package python3");
    }

    @AfterEach
    void endAll() throws InterruptedException {
        for (Process process : started) {
            process.destroyForcibly().waitFor();
        }
    }

    private Process start(String name, String... command) throws IOException {
        Process process =
                new ProcessBuilder(command)
                        .redirectErrorStream(true)
                        .redirectOutput(folder.resolve(name + ".log").toFile())
                        .start();
        started.add(process);
        return process;
    }

    private Path secret(String name, String text) throws IOException {
        Path file = folder.resolve(name);
        Files.writeString(file, text);
        return Files.setPosixFilePermissions(file, PosixFilePermissions.fromString("rw-------"));
    }

    private void outsideSwitch(int limitSeconds) throws IOException {
        try (ServerSocket socket = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
            port = socket.getLocalPort();
        }
        start(
                "switch",
                "python3",
                SWITCH.toString(),
                "--listen",
                "127.0.0.1:" + port,
                "--feeds",
                secret("feeds", TOKEN + " the desk\n").toString(),
                "--state",
                folder.resolve("switch.json").toString(),
                "--limit-seconds",
                Integer.toString(limitSeconds),
                "--",
                "sh",
                "-c",
                "cat >> " + folder.resolve("told"));
        Waiting.until(SECONDS_MAX, this::answers, () -> "the switch does not listen");
    }

    private boolean answers() {
        try (Socket socket = new Socket(InetAddress.getLoopbackAddress(), port)) {
            return socket.isConnected();
        } catch (IOException e) {
            return false;
        }
    }

    private String address() {
        return "http://127.0.0.1:" + port + "/feed/" + TOKEN;
    }

    private boolean isTold(String subject) {
        try {
            Path told = folder.resolve("told");
            return Files.exists(told) && Files.readString(told).contains('"' + subject + '"');
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    @Test
    void aMonitorThatIsKilledIsMissed() throws IOException, InterruptedException {
        outsideSwitch(14);
        secret("switch-address", address() + "\n");
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
                start(
                        "monitor",
                        MONITOR.toString(),
                        "watch",
                        "--verbose",
                        "--settings",
                        settings.toString());
        Waiting.until(
                SECONDS_MAX, () -> log("monitor").contains("is called"), () -> log("monitor"));
        assertFalse(log("monitor").contains(TOKEN), "the address is a secret");
        assertFalse(isTold("SILENT: the desk"), "it was called");
        monitor.destroyForcibly().waitFor();
        long killedNanos = clock.nanos();
        Waiting.until(SECONDS_MAX, () -> isTold("SILENT: the desk"), () -> log("switch"));
        System.out.printf(
                "a switch with a limit of 14 s spoke %.1f s after the monitor was killed%n",
                (clock.nanos() - killedNanos) / 1e9);
    }

    private String log(String name) {
        try {
            return Files.readString(folder.resolve(name + ".log"));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    @Test
    void aMonitorWhoseStoreTakesNothingStopsOnPurposeAndSaysSo() throws IOException, SQLException {
        outsideSwitch(4);
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
                                            URI.create(address()),
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
                            () -> isTold("SILENT: the desk"),
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
                        SECONDS_MAX, () -> isTold("Back: the desk"), () -> feed.state().toString());
            }
        }
    }

    private static boolean has(AlarmKeeper keeper, String code) {
        return keeper.alarms().stream().anyMatch(alarm -> alarm.key().code().value().equals(code));
    }
}
