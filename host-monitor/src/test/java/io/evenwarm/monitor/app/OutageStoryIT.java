package io.evenwarm.monitor.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import io.evenwarm.clock.SystemClock;
import io.evenwarm.testing.CProgram;
import io.evenwarm.testing.Programs;
import io.evenwarm.testing.Waiting;
import java.io.IOException;
import java.io.InputStream;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.regex.Pattern;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/**
 * The built programs: agent and monitor are killed, the agent comes back with a clock that is five
 * hours behind, the monitor after it, the network last of all. What is told of it is what was.
 */
@Tag("long")
@Timeout(900)
final class OutageStoryIT {

    private static final int BEHIND_SECONDS = 5 * 3600;

    /** What a kill takes of readings (commit_seconds), and 10 s. */
    private static final Duration RIGHT_WITHIN = Duration.ofSeconds(20);

    /** The gap shows once the agent's journal was caught up with. */
    private static final List<String> TOLD = List.of("gap", "unseen");

    /**
     * What tells the gap says so from the very moment at which the store moves the times of the
     * wrong clock: five hours, and what a told time is on its way.
     */
    private static final Pattern CORRECTED =
            Pattern.compile("\"clock set: [^\"]* dated (4:59:5|5:00:0)\\d h later ");

    private static final Pattern NEXT_TRY = Pattern.compile("; next try in (\\d+) s");

    private static final int DARK_SECONDS = 130;
    private static final int AWAY_SECONDS = 170;

    private final ObjectMapper json = new ObjectMapper();
    private final Path folder;
    private final Programs programs;
    private final int agentPort = Programs.freePort();
    private final int cablePort = Programs.freePort();
    private final List<Cable> cables = new ArrayList<>();

    OutageStoryIT(@TempDir Path folder) {
        this.folder = folder;
        programs = new Programs(folder);
    }

    @AfterEach
    void endAll() throws IOException {
        for (Cable cable : cables) {
            cable.close();
        }
        programs.close();
    }

    /** The network between monitor and agent, until it is cut. */
    private final class Cable implements AutoCloseable {
        private final ServerSocket server;
        private final List<Socket> ends = new ArrayList<>();

        Cable() throws IOException {
            server = new ServerSocket(cablePort, 5, InetAddress.getLoopbackAddress());
            start(
                    () -> {
                        while (!server.isClosed()) {
                            Socket near = server.accept();
                            Socket far = new Socket(InetAddress.getLoopbackAddress(), agentPort);
                            synchronized (ends) {
                                ends.add(near);
                                ends.add(far);
                            }
                            start(() -> copy(near, far));
                            start(() -> copy(far, near));
                        }
                    });
        }

        private void copy(Socket from, Socket to) throws IOException {
            try (from;
                    to;
                    InputStream in = from.getInputStream()) {
                in.transferTo(to.getOutputStream());
            }
        }

        @Override
        public void close() throws IOException {
            server.close();
            synchronized (ends) {
                for (Socket end : ends) {
                    end.close();
                }
            }
        }
    }

    private interface Work {
        void run() throws IOException;
    }

    private static void start(Work work) {
        Thread thread =
                new Thread(
                        () -> {
                            try {
                                work.run();
                            } catch (IOException e) {
                                // The cable was cut.
                            }
                        },
                        "cable");
        thread.setDaemon(true);
        thread.start();
    }

    private JsonNode events() throws IOException, InterruptedException {
        Path out = folder.resolve("events.out");
        Files.deleteIfExists(out);
        Process listing = programs.start("events", monitor("outages", "north", "--json"));
        return listing.waitFor() == 0
                ? json.readTree(Files.readString(out)).get("outages")
                : json.createArrayNode();
    }

    private String[] monitor(String... arguments) {
        List<String> command = new ArrayList<>(List.of(Programs.MONITOR.toString()));
        command.addAll(List.of(arguments));
        command.addAll(List.of("--settings", folder.resolve("monitor.toml").toString()));
        return command.toArray(String[]::new);
    }

    /**
     * Whether the monitor's newest status line, one each 5 s, says that it tries again in a moment:
     * it waits for up to 36 s between two tries, and sees only then that the network is back.
     */
    private boolean isNextTrySoon() {
        return NEXT_TRY.matcher(programs.said("monitor"))
                .results()
                .reduce((before, newest) -> newest)
                .map(newest -> Integer.parseInt(newest.group(1)))
                .filter(seconds -> seconds >= 7 && seconds <= 13)
                .isPresent();
    }

    private static boolean isToldForGood(JsonNode events) {
        return events.findValuesAsText("kind").containsAll(TOLD)
                && CORRECTED.matcher(events.findValues("evidence").toString()).find();
    }

    private static Instant now() {
        return SystemClock.wall().now();
    }

    private static void assertNear(Instant truth, JsonNode edge, String what) {
        Instant told = Instant.parse(edge.get("likely").asText());
        System.out.printf(
                "%s: truth %s, told %s, off %.1f s%n",
                what, truth, told, Duration.between(truth, told).toMillis() / 1000.0);
        assertTrue(
                Duration.between(truth, told).abs().compareTo(RIGHT_WITHIN) <= 0,
                what + " was " + truth + " and is told as " + edge);
    }

    @Test
    void whatIsToldAfterAllOfItFailedIsWhatWas() throws IOException, InterruptedException {
        CProgram.need("a wrong clock");
        Path layer =
                CProgram.layer(
                        folder.resolve("clock_layer.so"), Path.of("src/test/native/clock_layer.c"));
        String key = programs.monitorKey(folder.resolve("monitor.toml")).toString();
        Path config = folder.resolve("agent.toml");
        Files.writeString(
                config,
                """
                [agent]
                name = "egg room"
                state_folder = "state"
                [link.tls]
                listen = "127.0.0.1:%d"
                trusted_keys = ["%s"]
                [[cabinet]]
                name = "north"
                set_point_celsius = 31.5
                  [[cabinet.probe]]
                  name = "top"
                  position = "top"
                  driver = "simulated"
                  [cabinet.heater]
                  driver = "simulated"
                """
                        .formatted(agentPort, key));
        String[] agent = {Programs.AGENT.toString(), "run", "--config", config.toString()};
        Process asking =
                programs.start(
                        "key",
                        Programs.AGENT.toString(),
                        "identity",
                        "--config",
                        config.toString());
        assertEquals(0, asking.waitFor(), programs.said("key"));
        Files.writeString(
                folder.resolve("monitor.toml"),
                """
                [monitor]
                data_folder = "data"
                zone = "UTC"
                [[agent]]
                name = "egg room"
                address = "127.0.0.1:%d"
                key = "%s"
                """
                        .formatted(cablePort, programs.await("key", "(sha256:[0-9a-f]{64})")));
        cables.add(new Cable());
        Process firstAgent = programs.start("agent", agent);
        Process firstMonitor = programs.start("monitor", monitor("watch"));
        TimeUnit.SECONDS.sleep(40);
        Instant cut = now();
        Programs.kill(firstAgent);
        Programs.kill(firstMonitor);
        cables.get(0).close();
        TimeUnit.SECONDS.sleep(DARK_SECONDS);
        Instant back = now();
        Process unusedAgent =
                programs.start(
                        "agent",
                        "env",
                        "LD_PRELOAD=" + layer,
                        "CLOCK_LAYER_SECONDS=-" + BEHIND_SECONDS,
                        agent[0],
                        agent[1],
                        agent[2],
                        agent[3]);
        Instant watching = now();
        Process unusedMonitor = programs.start("monitor", monitor("watch"));
        TimeUnit.SECONDS.sleep(AWAY_SECONDS);
        Waiting.until(100, this::isNextTrySoon, () -> programs.said("monitor"));
        Instant returned = now();
        cables.add(new Cable());
        Waiting.until(
                300,
                () -> {
                    try {
                        return isToldForGood(events());
                    } catch (IOException | InterruptedException e) {
                        throw new AssertionError(e);
                    }
                },
                () -> programs.said("events") + programs.said("monitor") + programs.said("agent"));
        JsonNode events = events();
        System.out.println(json.writerWithDefaultPrettyPrinter().writeValueAsString(events));
        JsonNode gap = events.get(0);
        assertEquals("gap", gap.get("kind").asText());
        assertNear(cut, gap.get("begin"), "the cut");
        assertNear(back, gap.get("end"), "the agent's return");
        assertEquals("[\"agent\",\"monitor\"]", gap.get("dark").toString());
        assertEquals("none", gap.get("heat").asText());
        JsonNode unseen = events.get(1);
        assertEquals("unseen", unseen.get("kind").asText());
        assertEquals("[\"network\"]", unseen.get("dark").toString());
        assertTrue(
                !Instant.parse(unseen.get("begin").get("likely").asText()).isBefore(watching),
                "before that the monitor was dark itself");
        assertNear(returned, unseen.get("end"), "the network's return");
        assertEquals(2, events.size(), events.toString());
    }
}
