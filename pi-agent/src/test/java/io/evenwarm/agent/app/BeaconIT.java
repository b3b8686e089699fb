package io.evenwarm.agent.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.SystemClock;
import io.evenwarm.testing.OutsideSwitch;
import io.evenwarm.testing.PlainCabinet;
import io.evenwarm.testing.Programs;
import io.evenwarm.testing.Tools;
import java.io.IOException;
import java.net.HttpURLConnection;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.TimeUnit;
import org.eclipse.paho.client.mqttv3.MqttClient;
import org.eclipse.paho.client.mqttv3.MqttException;
import org.eclipse.paho.client.mqttv3.persist.MemoryPersistence;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;

/** The built agent with a real broker, and with the outside switch that docs/ ship. */
@Tag("long")
@Execution(ExecutionMode.CONCURRENT)
@Timeout(240)
final class BeaconIT {

    private final MonotonicClock clock = SystemClock.monotonic();
    private final Path folder;
    private final Programs programs;

    BeaconIT(@TempDir Path folder) {
        this.folder = folder;
        this.programs = new Programs(folder);
    }

    @AfterEach
    void endAll() {
        programs.close();
    }

    private Process broker(int port) throws IOException {
        Path settings = folder.resolve("broker.conf");
        Files.writeString(settings, "listener " + port + " 127.0.0.1\nallow_anonymous true\n");
        Process broker = programs.start("broker", "/usr/sbin/mosquitto", "-c", settings.toString());
        programs.until(() -> Programs.isAnswered(port));
        return broker;
    }

    private Process agent(String beacon) throws IOException {
        Path config = folder.resolve("agent.toml");
        Files.writeString(
                config,
                "[agent]\nname = \"egg room\"\nstate_folder = \"state\"\n"
                        + beacon
                        + PlainCabinet.NORTH);
        return programs.start(
                "agent", Programs.AGENT.toString(), "run", "--config", config.toString());
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
        Tools.need("mosquitto", "the broker's side", "mosquitto");
        int port = Programs.freePort();
        Process broker = broker(port);
        String beacon = "[beacon.mqtt]\nbroker = \"tcp://127.0.0.1:" + port + "\"\n";
        Process agent = agent(beacon);
        Map<String, String> held = subscribed(port);
        programs.until(() -> held.containsKey("evenwarm/egg room/cabinet/north"));
        assertEquals("yes", held.get("evenwarm/egg room/alive"));
        JsonNode north = new ObjectMapper().readTree(held.get("evenwarm/egg room/cabinet/north"));
        assertEquals(31.5, north.get("setPointCelsius").asDouble());
        assertEquals(2, north.get("probes").size());

        // A late subscriber gets the newest at once: it is retained.
        Programs.kill(agent);
        programs.until(() -> "no".equals(held.get("evenwarm/egg room/alive")));

        Process again = agent(beacon);
        programs.until(() -> "yes".equals(held.get("evenwarm/egg room/alive")));
        again.destroy();
        programs.until(() -> "no".equals(held.get("evenwarm/egg room/alive")));
        assertEquals(143, again.waitFor());

        agent(beacon);
        programs.until(() -> "yes".equals(held.get("evenwarm/egg room/alive")));
        Programs.kill(broker);
        broker(port);
        Map<String, String> afterwards = subscribed(port);
        programs.until(() -> "yes".equals(afterwards.get("evenwarm/egg room/alive")));
        programs.until(() -> afterwards.containsKey("evenwarm/egg room/cabinet/north"));
    }

    /** MQTT 3.1.1 s.3.1.2.10: the broker gives up after one and a half keep-alive times. */
    @Test
    void anAgentThatHangsIsGoneForTheBrokerAfterOneAndAHalfKeepAliveTimes()
            throws IOException, InterruptedException, MqttException {
        Tools.need("mosquitto", "the broker's side", "mosquitto");
        int port = Programs.freePort();
        broker(port);
        Process agent = agent("[beacon.mqtt]\nbroker = \"tcp://127.0.0.1:" + port + "\"\n");
        Map<String, String> held = subscribed(port);
        programs.until(() -> "yes".equals(held.get("evenwarm/egg room/alive")));
        long stoppedNanos = clock.nanos();
        assertEquals(
                0,
                new ProcessBuilder("kill", "-STOP", Long.toString(agent.pid())).start().waitFor());
        programs.until(() -> "no".equals(held.get("evenwarm/egg room/alive")));
        double seconds = (clock.nanos() - stoppedNanos) / 1e9;
        System.out.printf("the broker calls a hung agent gone after %.1f s%n", seconds);
        assertTrue(seconds < 45, seconds + " s");
    }

    @Test
    void theOutsideSwitchSpeaksWhenTheAgentIsSilentAndWhenItIsBack()
            throws IOException, InterruptedException {
        OutsideSwitch outside = new OutsideSwitch(programs, folder, "the egg room");
        Process first = outside.start(25);
        programs.secret("switch-address", outside.address() + "\n");
        String beacon = "[beacon.switch]\naddress_file = \"switch-address\"\nevery_seconds = 10\n";
        Process agent = agent(beacon);
        TimeUnit.SECONDS.sleep(35);
        assertTrue(!outside.isTold("SILENT: the egg room"), "it is called every 10 s");

        Programs.kill(agent);
        long killedNanos = clock.nanos();
        programs.until(() -> outside.isTold("SILENT: the egg room"));
        System.out.printf(
                "a switch with a limit of 25 s spoke %.1f s after the agent was killed%n",
                (clock.nanos() - killedNanos) / 1e9);

        // What it knows of who is missed outlives it, once it is written, which is just after.
        programs.until(() -> isMissed(outside, "egg room"));
        Programs.kill(first);
        outside.start(25);
        assertTrue(!outside.isTold("Back: the egg room"));
        agent(beacon);
        programs.until(() -> outside.isTold("Back: the egg room"));
    }

    private static boolean isMissed(OutsideSwitch outside, String name) {
        try {
            return Files.readString(outside.state()).contains(name);
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
        OutsideSwitch outside = new OutsideSwitch(programs, folder, "the egg room");
        outside.start(2);
        int port = outside.port();
        assertEquals(204, statusOf(port, "/feed/" + OutsideSwitch.TOKEN));
        assertEquals(404, statusOf(port, "/feed/" + OutsideSwitch.TOKEN + "x"));
        assertEquals(404, statusOf(port, "/feed/"));
        assertEquals(404, statusOf(port, "/../feed"));
        programs.until(() -> outside.isTold("SILENT: the egg room"));

        Files.setPosixFilePermissions(
                outside.feeds(), PosixFilePermissions.fromString("rw-r--r--"));
        Process open =
                programs.start(
                        "open",
                        "python3",
                        OutsideSwitch.SCRIPT.toString(),
                        "--feeds",
                        outside.feeds().toString(),
                        "--state",
                        folder.resolve("s").toString(),
                        "--",
                        "true");
        assertEquals(2, open.waitFor());
        assertTrue(
                programs.said("open").contains("others than its owner may read it"),
                programs.said("open"));
    }
}
