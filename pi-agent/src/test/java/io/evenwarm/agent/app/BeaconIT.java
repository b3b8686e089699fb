package io.evenwarm.agent.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.SystemClock;
import java.io.IOException;
import java.net.HttpURLConnection;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.TimeUnit;
import java.util.function.BooleanSupplier;
import java.util.stream.Stream;
import org.eclipse.paho.client.mqttv3.MqttClient;
import org.eclipse.paho.client.mqttv3.MqttException;
import org.eclipse.paho.client.mqttv3.persist.MemoryPersistence;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** The built agent with a real broker, and with the outside switch that docs/ ship. */
@Tag("long")
@Timeout(240)
final class BeaconIT {

    private static final Path AGENT = Path.of("target/dist/bin/evenwarm-agent").toAbsolutePath();
    private static final Path SWITCH =
            Path.of("..", "docs", "outside-switch", "outside_switch.py").toAbsolutePath();
    private static final String TOKEN = "a-token-of-sufficient-length";
    private static final int SECONDS_MAX = 100;
    private static final String CABINET =
            """
            [[cabinet]]
            name = "north"
            set_point_celsius = 31.5
              [[cabinet.probe]]
              name = "top"
              position = "top"
              driver = "simulated"
              [[cabinet.probe]]
              name = "bottom"
              position = "bottom"
              driver = "simulated"
              [cabinet.heater]
              driver = "simulated"
            """;

    private final MonotonicClock clock = SystemClock.monotonic();
    private final List<Process> started = new ArrayList<>();
    private final Path folder;

    BeaconIT(@TempDir Path folder) {
        this.folder = folder;
    }

    @AfterEach
    void endAll() throws InterruptedException {
        for (Process process : started) {
            process.destroyForcibly().waitFor();
        }
    }

    private static void need(String program) {
        boolean isThere =
                Stream.concat(
                                Stream.of(System.getenv().getOrDefault("PATH", "").split(":")),
                                Stream.of("/usr/sbin"))
                        .anyMatch(each -> Files.isExecutable(Path.of(each, program)));
        Assumptions.assumeTrue(isThere, "not tested: install the package " + program);
    }

    private Process start(String name, String... command) throws IOException {
        Process process =
                new ProcessBuilder(command)
                        .redirectErrorStream(true)
                        .redirectOutput(ProcessBuilder.Redirect.appendTo(log(name).toFile()))
                        .start();
        started.add(process);
        return process;
    }

    private Path log(String name) {
        return folder.resolve(name + ".log");
    }

    private void until(BooleanSupplier condition) throws IOException, InterruptedException {
        long endNanos = clock.nanos() + TimeUnit.SECONDS.toNanos(SECONDS_MAX);
        while (!condition.getAsBoolean()) {
            if (clock.nanos() > endNanos) {
                StringBuilder logs = new StringBuilder("not within " + SECONDS_MAX + " s");
                try (Stream<Path> files = Files.list(folder)) {
                    for (Path file :
                            files.filter(each -> each.toString().endsWith("log")).toList()) {
                        logs.append('\n').append(file).append(":\n").append(Files.readString(file));
                    }
                }
                throw new AssertionError(logs);
            }
            TimeUnit.MILLISECONDS.sleep(20);
        }
    }

    private static int freePort() throws IOException {
        try (ServerSocket socket = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
            return socket.getLocalPort();
        }
    }

    private Process broker(int port) throws IOException, InterruptedException {
        Path settings = folder.resolve("broker.conf");
        Files.writeString(settings, "listener " + port + " 127.0.0.1\nallow_anonymous true\n");
        Process broker = start("broker", "/usr/sbin/mosquitto", "-c", settings.toString());
        until(() -> answers(port));
        return broker;
    }

    private static boolean answers(int port) {
        try (java.net.Socket socket = new java.net.Socket(InetAddress.getLoopbackAddress(), port)) {
            return socket.isConnected();
        } catch (IOException e) {
            return false;
        }
    }

    private Process agent(String beacon) throws IOException {
        Path config = folder.resolve("agent.toml");
        Files.writeString(
                config,
                "[agent]\nname = \"egg room\"\nstate_folder = \"state\"\n" + beacon + CABINET);
        return start("agent", AGENT.toString(), "run", "--config", config.toString());
    }

    private Path secret(String name, String text) throws IOException {
        Path file = folder.resolve(name);
        Files.writeString(file, text);
        return Files.setPosixFilePermissions(file, PosixFilePermissions.fromString("rw-------"));
    }

    /** What a subscriber holds: the last payload of each topic. */
    private static Map<String, String> subscribed(int port) throws MqttException {
        Map<String, String> last = new ConcurrentHashMap<>();
        MqttClient client =
                new MqttClient("tcp://127.0.0.1:" + port, "keeper", new MemoryPersistence());
        client.connect();
        client.subscribe(
                "evenwarm/#",
                1,
                (topic, message) ->
                        last.put(topic, new String(message.getPayload(), StandardCharsets.UTF_8)));
        return last;
    }

    @Test
    void theBrokerHasEachCabinetsStateAndSaysByItselfThatTheAgentIsGone()
            throws IOException, InterruptedException, MqttException {
        need("mosquitto");
        int port = freePort();
        Process broker = broker(port);
        String beacon = "[beacon.mqtt]\nbroker = \"tcp://127.0.0.1:" + port + "\"\n";
        Process agent = agent(beacon);
        Map<String, String> held = subscribed(port);
        until(() -> held.containsKey("evenwarm/egg room/cabinet/north"));
        assertEquals("yes", held.get("evenwarm/egg room/alive"));
        JsonNode north = new ObjectMapper().readTree(held.get("evenwarm/egg room/cabinet/north"));
        assertEquals(31.5, north.get("setPointCelsius").asDouble());
        assertEquals(2, north.get("probes").size());

        // A late subscriber gets the newest at once: it is retained.
        agent.destroyForcibly().waitFor();
        until(() -> "no".equals(held.get("evenwarm/egg room/alive")));

        Process again = agent(beacon);
        until(() -> "yes".equals(held.get("evenwarm/egg room/alive")));
        again.destroy();
        until(() -> "no".equals(held.get("evenwarm/egg room/alive")));
        assertEquals(143, again.waitFor());

        agent(beacon);
        until(() -> "yes".equals(held.get("evenwarm/egg room/alive")));
        broker.destroyForcibly().waitFor();
        broker(port);
        Map<String, String> afterwards = subscribed(port);
        until(() -> "yes".equals(afterwards.get("evenwarm/egg room/alive")));
        until(() -> afterwards.containsKey("evenwarm/egg room/cabinet/north"));
    }

    /** MQTT 3.1.1 s.3.1.2.10: the broker gives up after one and a half keep-alive times. */
    @Test
    void anAgentThatHangsIsGoneForTheBrokerAfterOneAndAHalfKeepAliveTimes()
            throws IOException, InterruptedException, MqttException {
        need("mosquitto");
        int port = freePort();
        broker(port);
        Process agent = agent("[beacon.mqtt]\nbroker = \"tcp://127.0.0.1:" + port + "\"\n");
        Map<String, String> held = subscribed(port);
        until(() -> "yes".equals(held.get("evenwarm/egg room/alive")));
        long stoppedNanos = clock.nanos();
        assertEquals(
                0,
                new ProcessBuilder("kill", "-STOP", Long.toString(agent.pid())).start().waitFor());
        until(() -> "no".equals(held.get("evenwarm/egg room/alive")));
        double seconds = (clock.nanos() - stoppedNanos) / 1e9;
        System.out.printf("the broker calls a hung agent gone after %.1f s%n", seconds);
        assertTrue(seconds < 45, seconds + " s");
    }

    private Process outsideSwitch(int port, int limitSeconds)
            throws IOException, InterruptedException {
        Process process =
                start(
                        "switch",
                        "python3",
                        SWITCH.toString(),
                        "--listen",
                        "127.0.0.1:" + port,
                        "--feeds",
                        secret("feeds", TOKEN + " the egg room\n").toString(),
                        "--state",
                        folder.resolve("switch.json").toString(),
                        "--limit-seconds",
                        Integer.toString(limitSeconds),
                        "--",
                        "sh",
                        "-c",
                        "cat >> " + folder.resolve("told.log") + "; echo >> " + log("told"));
        until(() -> answers(port));
        return process;
    }

    private boolean isTold(String subject) {
        try {
            return Files.exists(log("told"))
                    && Files.readString(log("told")).contains("\"subject\": \"" + subject + "\"");
        } catch (IOException e) {
            throw new java.io.UncheckedIOException(e);
        }
    }

    @Test
    void theOutsideSwitchSpeaksWhenTheAgentIsSilentAndWhenItIsBack()
            throws IOException, InterruptedException {
        need("python3");
        int port = freePort();
        Process outside = outsideSwitch(port, 25);
        secret("switch-address", "http://127.0.0.1:" + port + "/feed/" + TOKEN + "\n");
        String beacon = "[beacon.switch]\naddress_file = \"switch-address\"\nevery_seconds = 10\n";
        Process agent = agent(beacon);
        TimeUnit.SECONDS.sleep(35);
        assertTrue(!isTold("SILENT: the egg room"), "it is called every 10 s");

        agent.destroyForcibly().waitFor();
        long killedNanos = clock.nanos();
        until(() -> isTold("SILENT: the egg room"));
        System.out.printf(
                "a switch with a limit of 25 s spoke %.1f s after the agent was killed%n",
                (clock.nanos() - killedNanos) / 1e9);

        // What it knows of who is missed outlives it, once it is written, which is just after.
        until(() -> isMissed("egg room"));
        outside.destroyForcibly().waitFor();
        outsideSwitch(port, 25);
        assertTrue(!isTold("Back: the egg room"));
        agent(beacon);
        until(() -> isTold("Back: the egg room"));
    }

    private boolean isMissed(String name) {
        try {
            return Files.readString(folder.resolve("switch.json")).contains(name);
        } catch (IOException notYet) {
            return false;
        }
    }

    private static int statusOf(int port, String path) throws IOException {
        HttpURLConnection call =
                (HttpURLConnection)
                        URI.create("http://127.0.0.1:" + port + path).toURL().openConnection();
        return call.getResponseCode();
    }

    @Test
    void theOutsideSwitchKnowsOnlyItsTokensAndKeepsThemFromOthers()
            throws IOException, InterruptedException {
        need("python3");
        int port = freePort();
        outsideSwitch(port, 2);
        assertEquals(204, statusOf(port, "/feed/" + TOKEN));
        assertEquals(404, statusOf(port, "/feed/" + TOKEN + "x"));
        assertEquals(404, statusOf(port, "/feed/"));
        assertEquals(404, statusOf(port, "/../feed"));
        until(() -> isTold("SILENT: the egg room"));

        Files.setPosixFilePermissions(
                folder.resolve("feeds"), PosixFilePermissions.fromString("rw-r--r--"));
        Process open =
                start(
                        "open",
                        "python3",
                        SWITCH.toString(),
                        "--feeds",
                        folder.resolve("feeds").toString(),
                        "--state",
                        folder.resolve("s").toString(),
                        "--",
                        "true");
        assertEquals(2, open.waitFor());
        assertTrue(
                Files.readString(log("open")).contains("others than its owner may read it"),
                Files.readString(log("open")));
    }
}
