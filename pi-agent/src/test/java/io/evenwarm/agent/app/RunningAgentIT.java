package io.evenwarm.agent.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.serve.LocalClient;
import io.evenwarm.clock.SystemClock;
import io.evenwarm.link.LinkException;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.GuardState;
import io.evenwarm.settings.SettingsResult;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.Predicate;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/**
 * Start and end of a whole agent in this process, and what keeps running when a part can't start.
 */
@Timeout(60)
final class RunningAgentIT {

    private static final Duration PATIENCE = Duration.ofSeconds(30);

    @TempDir Path folder;
    private String out = "";
    private String err = "";
    private final AtomicReference<Throwable> death = new AtomicReference<>();

    /** Two cabinets on fake kernel files, 25 °C everywhere. */
    private static final String REAL =
            """
            [agent]
            name = "egg room"
            state_folder = "state"
            [sensors]
            one_wire_folder = "w1"
            led_folder = "leds"
            [link.tls]
            listen = "127.0.0.1:%d"
            trusted_keys = []
            """;

    @BeforeEach
    void makeKernelFiles() throws IOException {
        for (String cabinet : List.of("north", "south")) {
            for (String line : List.of("heater-", "cut-off-")) {
                Path led = Files.createDirectories(folder.resolve("leds").resolve(line + cabinet));
                Files.writeString(led.resolve("brightness"), "1\n");
            }
            for (int i = 1; i <= 2; i++) {
                Path probe =
                        Files.createDirectories(folder.resolve("w1").resolve(address(cabinet, i)));
                // 25 °C (DS18B20 datasheet, table 1: 0191h is 25.0625 °C; 0190h is 25 °C).
                Files.writeString(probe.resolve("temperature"), "25000\n");
            }
        }
    }

    private static String address(String cabinet, int number) {
        return "28-00000000000" + (cabinet.equals("north") ? number : number + 2);
    }

    private static String cabinet(String name) {
        return """
        [[cabinet]]
        name = "%1$s"
        set_point_celsius = 31.5
          [[cabinet.probe]]
          name = "top"
          position = "top"
          driver = "one-wire"
          address = "%2$s"
          [[cabinet.probe]]
          name = "bottom"
          position = "bottom"
          driver = "one-wire"
          address = "%3$s"
          [cabinet.heater]
          driver = "led"
          line = "heater-%1$s"
          [cabinet.cut_off_relay]
          driver = "led"
          line = "cut-off-%1$s"
        """
                .formatted(name, address(name, 1), address(name, 2));
    }

    private AgentConfiguration configuration(int port) {
        String text = REAL.formatted(port) + cabinet("north") + cabinet("south");
        return ConfigurationReader.parse(folder.resolve("agent.toml"), text)
                .fold(
                        SettingsResult.Accepted::value,
                        rejected -> {
                            throw new AssertionError(rejected.errors());
                        });
    }

    private RunningAgent prepared(AgentConfiguration configuration) throws IOException {
        return RunningAgent.prepare(configuration, SystemClock.monotonic(), SystemClock.wall());
    }

    private boolean isOn(String line) throws IOException {
        return Files.readString(folder.resolve("leds").resolve(line).resolve("brightness"))
                .startsWith("1");
    }

    private CabinetSnapshot await(String cabinet, Predicate<CabinetSnapshot> wanted)
            throws InterruptedException {
        long begin = SystemClock.monotonic().nanos();
        String last = "nothing";
        while (SystemClock.monotonic().nanos() - begin < PATIENCE.toNanos()) {
            try (LocalClient client =
                    LocalClient.connect(
                            folder.resolve("state/agent.socket"),
                            "test",
                            SystemClock.monotonic())) {
                for (CabinetSnapshot snapshot : client.status().cabinets()) {
                    if (snapshot.cabinet().value().equals(cabinet)) {
                        last = snapshot.toString();
                        if (wanted.test(snapshot)) {
                            return snapshot;
                        }
                    }
                }
            } catch (LinkException e) {
                last = e.toString();
            }
            Thread.sleep(100);
        }
        throw new AssertionError("not seen at " + cabinet + ", last: " + last);
    }

    @Test
    void everyLineIsOffBeforeTheJournalIsOpenedOrASampleIsRead() throws IOException {
        assertTrue(isOn("heater-north"));

        RunningAgent agent = prepared(configuration(0));
        try {
            assertFalse(isOn("heater-north") || isOn("cut-off-north"));
            assertFalse(isOn("heater-south") || isOn("cut-off-south"));
            assertFalse(Files.exists(folder.resolve("state/journal.sqlite")));
        } finally {
            agent.close();
        }
    }

    @Test
    void aSecondAgentOnTheSameStateIsRefusedAndTouchesNoLine() throws Exception {
        try (RunningAgent first = prepared(configuration(0))) {
            first.start(death::set);
            await("north", CabinetSnapshot::heaterOn);

            StateFolder.TakenException taken =
                    assertThrows(
                            StateFolder.TakenException.class, () -> prepared(configuration(0)));

            assertTrue(isOn("heater-north"));
            assertTrue(
                    String.valueOf(taken.getMessage()).startsWith("another agent runs on"),
                    taken::toString);
        }
        assertFalse(isOn("heater-north"), "the end drives it off");
        // The lock went with its agent.
        prepared(configuration(0)).close();
    }

    @Test
    void aTakenPortKeepsNoCabinetFromItsHeatAndStatusTellsOfIt() throws Exception {
        String state = folder.resolve("state").toString();
        try (ServerSocket taken = new ServerSocket(0, 1, InetAddress.getLoopbackAddress());
                RunningAgent agent = prepared(configuration(taken.getLocalPort()))) {
            agent.start(death::set);

            assertEquals(
                    "{\"agent\":\"egg room\",\"tlsPort\":null,\"tlsKey\":null}",
                    agent.announcement());
            await("north", CabinetSnapshot::heaterOn);
            assertTrue(isOn("heater-north"));
            assertEquals(ExitCode.DONE, execute("status", "--state", state));
            assertTrue(
                    out.lines()
                            .anyMatch(
                                    line ->
                                            line.startsWith("! monitors: ")
                                                    && line.contains(":" + taken.getLocalPort())),
                    out);
            assertEquals(ExitCode.DONE, execute("status", "--json", "--state", state));
            assertTrue(out.contains("\"monitorTroubles\":[\""), out);
        }
        assertFalse(isOn("heater-north"));
    }

    @Test
    void aLineThatIsNotThereKeepsOnlyItsOwnCabinetCold() throws Exception {
        Files.delete(folder.resolve("leds/heater-south/brightness"));

        try (RunningAgent agent = prepared(configuration(0))) {
            agent.start(death::set);
            await("north", CabinetSnapshot::heaterOn);
            CabinetSnapshot south =
                    await(
                            "south",
                            snapshot ->
                                    snapshot.findings().stream()
                                            .anyMatch(
                                                    finding ->
                                                            finding.code()
                                                                    .value()
                                                                    .equals("output-failing")));
            assertTrue(south.heaterOn(), "what nobody could drive off counts as on");
            assertFalse(isOn("cut-off-south"));
        }
    }

    @Test
    void withoutAStateFolderEveryCutOffCountsAsTripped() throws Exception {
        Files.writeString(folder.resolve("state"), "not a folder");

        try (RunningAgent agent = prepared(configuration(0))) {
            agent.start(death::set);
            // Longer than any cabinet is held back after a good start.
            Thread.sleep(8000);
            assertFalse(isOn("heater-north") || isOn("cut-off-north"));
        }
        assertEquals(null, death.get());
    }

    @Test
    void aStateFolderThatCannotBeWrittenDoesNotLetEggsGoCold() throws Exception {
        // Stands for a memory card that became read-only: neither lock nor note can be made anew.
        Path state = Files.createDirectory(folder.resolve("state"));
        prepared(configuration(0)).close();
        Files.delete(state.resolve("agent.lock"));
        Files.createDirectory(state.resolve("agent.lock"));
        Files.createDirectory(state.resolve("journal.sqlite"));

        try (RunningAgent agent = prepared(configuration(0))) {
            agent.start(death::set);
            CabinetSnapshot north =
                    await(
                            "north",
                            snapshot ->
                                    snapshot.heaterOn()
                                            && snapshot.findings().stream()
                                                    .anyMatch(
                                                            finding ->
                                                                    finding.code()
                                                                            .value()
                                                                            .equals(
                                                                                    "journal-failing")));
            assertEquals(GuardState.ALLOWING, north.guard());
        }
    }

    /**
     * The commands at the cabinet, each against the running agent and, at the end, against none.
     */
    @Test
    void thePersonAtTheCabinetIsAnswered() throws Exception {
        String state = folder.resolve("state").toString();
        try (RunningAgent agent = prepared(configuration(0))) {
            agent.start(death::set);
            await("north", CabinetSnapshot::heaterOn);

            assertEquals(ExitCode.DONE, execute("status", "--state", state));
            assertTrue(out.contains("north: 25.00 °C, set point 31.50 °C"), out);
            assertEquals(ExitCode.DONE, execute("status", "--json", "--state", state));
            assertEquals(1, out.lines().count());
            assertTrue(out.startsWith("{\"agent\":\"egg room\","), out);
            assertEquals(ExitCode.NO, execute("reset", "north", "--state", state));
            assertTrue(err.contains("nothing to reset"), err);
            assertEquals(ExitCode.NO, execute("reset", "west", "--state", state));
            assertTrue(err.contains("north, south"), err);
            assertEquals(ExitCode.BAD_INPUT, execute("reset", "../x", "--state", state));
            assertEquals(ExitCode.DONE, execute("silence", "north", "--json", "--state", state));
            assertTrue(out.startsWith("{\"cabinet\":\"north\",\"done\":true,"), out);
            assertEquals(ExitCode.DONE, execute("identity", "--state", state));
            assertTrue(out.matches("sha256:[0-9a-f]{64}\\R"), out);
        }
        assertEquals(ExitCode.NO, execute("status", "--state", state));
        assertTrue(err.contains("no agent answers"), err);
    }

    private int execute(String... arguments) {
        StringWriter outText = new StringWriter();
        StringWriter errText = new StringWriter();
        int code = AgentMain.execute(new PrintWriter(outText), new PrintWriter(errText), arguments);
        out = outText.toString();
        err = errText.toString();
        return code;
    }
}
