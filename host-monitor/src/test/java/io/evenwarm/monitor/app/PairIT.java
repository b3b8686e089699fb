package io.evenwarm.monitor.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.testing.PlainCabinet;
import io.evenwarm.testing.Programs;
import io.evenwarm.testing.PtyPair;
import io.evenwarm.testing.Waiting;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.TimeUnit;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/**
 * Two people pair the built agent with the built monitor, over TLS and over a serial line; then the
 * monitor watches, also after the line's adapter was pulled and plugged again.
 */
@Timeout(300)
final class PairIT {

    private static final int SECONDS_MAX = 100;
    private static final Pattern DIGITS = Pattern.compile("(?m)^ {4}([0-9]{3} [0-9]{3})$");
    private static final String CABINET = PlainCabinet.NORTH;

    private final List<Process> started = new ArrayList<>();
    private final List<PtyPair> cables = new ArrayList<>();
    private final Path folder;
    private final Path config;
    private final Path settings;

    PairIT(@TempDir Path folder) throws IOException {
        this.folder = folder;
        this.config = folder.resolve("agent.toml");
        this.settings = folder.resolve("monitor.toml");
        Files.writeString(
                settings, "[monitor]\nname = \"desk\"\ndata_folder = \"data\" # stays as it is");
    }

    @AfterEach
    void endAll() throws IOException {
        started.forEach(Process::destroyForcibly);
        for (PtyPair cable : cables) {
            cable.close();
        }
    }

    /** A process and all that it has said. */
    private final class Talk {
        private final Process process;
        private final List<String> lines = new CopyOnWriteArrayList<>();

        Talk(String... command) throws IOException {
            ProcessBuilder builder = new ProcessBuilder(command).redirectErrorStream(true);
            builder.environment().remove("DISPLAY");
            process = builder.start();
            started.add(process);
            Thread reader = new Thread(this::read, "output");
            reader.setDaemon(true);
            reader.start();
        }

        private void read() {
            try (BufferedReader out = process.inputReader(StandardCharsets.UTF_8)) {
                for (String line = out.readLine(); line != null; line = out.readLine()) {
                    lines.add(line);
                }
            } catch (IOException ended) {
                lines.add("(" + ended.getMessage() + ")");
            }
        }

        String said() {
            return String.join("\n", lines);
        }

        Matcher await(Pattern pattern) {
            Waiting.until(
                    SECONDS_MAX,
                    () -> pattern.matcher(said()).find(),
                    () -> "no " + pattern + " in:\n" + said());
            Matcher matcher = pattern.matcher(said());
            assertTrue(matcher.find());
            return matcher;
        }

        Matcher await(String pattern) {
            return await(Pattern.compile(pattern));
        }

        void type(String line) throws IOException {
            Writer in = process.outputWriter(StandardCharsets.UTF_8);
            in.write(line + "\n");
            in.flush();
        }

        int end() throws InterruptedException {
            assertTrue(process.waitFor(SECONDS_MAX, TimeUnit.SECONDS), said());
            return process.exitValue();
        }
    }

    private Talk agent(String... arguments) throws IOException {
        List<String> command = new ArrayList<>(List.of(Programs.AGENT.toString()));
        command.addAll(List.of(arguments));
        command.addAll(List.of("--config", config.toString()));
        return new Talk(command.toArray(String[]::new));
    }

    private Talk monitor(String... arguments) throws IOException {
        List<String> command = new ArrayList<>(List.of(Programs.MONITOR.toString()));
        command.addAll(List.of(arguments));
        command.addAll(List.of("--settings", settings.toString()));
        return new Talk(command.toArray(String[]::new));
    }

    private void pairAt(String address) throws IOException, InterruptedException {
        Talk here = agent("pair", "--role", "operate");
        here.await("waiting for a monitor to ask");
        Talk there = monitor("agents", "pair", address);
        String digits = there.await(DIGITS).group(1);
        assertEquals(digits, here.await(DIGITS).group(1), "both show the same digits");
        here.await("Are they the same");
        there.await("Are they the same");
        there.type("yes");
        here.type("yes");
        assertEquals(0, there.end(), there.said());
        assertEquals(0, here.end(), here.said());
        there.await("Paired with \"egg room\", key sha256:[0-9a-f]{64}: this monitor may operate");
    }

    @Test
    void overTlsBothRememberTheOtherAndTheMonitorWatches()
            throws IOException, InterruptedException {
        Files.writeString(
                config,
                "[agent]\nname = \"egg room\"\nstate_folder = \"state\"\n"
                        + "[link.tls]\nlisten = \"127.0.0.1:0\"\n"
                        + CABINET);
        Talk running = agent("run", "--announce");
        String port = running.await("\"tlsPort\":([0-9]+)").group(1);

        Talk tooSoon = monitor("agents", "pair", "127.0.0.1:" + port);
        assertEquals(1, tooSoon.end(), tooSoon.said());
        tooSoon.await("evenwarm-agent pair must run meanwhile");

        pairAt("127.0.0.1:" + port);
        String text = Files.readString(settings);
        assertTrue(text.contains("# stays as it is\n"), text);
        assertTrue(text.contains("address = \"127.0.0.1:" + port + "\""), text);
        Talk list = agent("pair", "--list");
        list.await("desk: operate, key sha256:[0-9a-f]{64}");
        Talk watching = monitor("watch", "--every", "1");
        watching.await("north.* °C, set 31");
    }

    @Test
    void anAgentIsFoundOnTheNetworkWhileSomeoneAskedThereForPairing()
            throws IOException, InterruptedException {
        Files.writeString(
                config,
                "[agent]\nname = \"egg room\"\nstate_folder = \"state\"\n"
                        + "[link.tls]\nlisten = \"127.0.0.1:0\"\n"
                        + CABINET);
        Talk running = agent("run", "--announce");
        String port = running.await("\"tlsPort\":([0-9]+)").group(1);
        Talk tooSoon = monitor("agents", "find", "--seconds", "2");
        assertEquals(1, tooSoon.end(), tooSoon.said());
        tooSoon.await(
                "no agent was found. An agent shows itself .* while evenwarm-agent pair runs");

        agent("pair").await("waiting for a monitor to ask");
        Talk found = monitor("agents", "find");
        assertEquals(0, found.end(), found.said());
        found.await(
                "127.0.0.1:"
                        + port
                        + ": an agent, key sha256:[0-9a-f]{64}. Not in the settings; to pair:"
                        + " evenwarm agents pair 127.0.0.1:"
                        + port);
    }

    @Test
    void overASerialLineTooAndAPulledAdapterComesBackByItself()
            throws IOException, InterruptedException {
        PtyPair.assumeThatSocatIsThere();
        Path left = folder.resolve("left");
        Path right = folder.resolve("right");
        Files.writeString(
                config,
                "[agent]\nname = \"egg room\"\nstate_folder = \"state\"\n"
                        + "[link.serial]\nport = \""
                        + left
                        + "\"\n"
                        + CABINET);
        PtyPair cable = plug();
        Talk running = agent("run", "--announce");
        running.await("waiting for a monitor at the serial port");
        Talk found = monitor("agents", "find", "--seconds", "1", "--port", right.toString());
        assertEquals(0, found.end(), found.said());
        found.await(
                right
                        + ": agent \"egg room\", key sha256:[0-9a-f]{64}. Not in the settings; to pair");
        pairAt(right.toString());
        Talk again = monitor("agents", "find", "--seconds", "1", "--port", right.toString());
        assertEquals(0, again.end(), again.said());
        again.await("In the settings as \"egg room\"$");
        Talk watching = monitor("watch", "--every", "1");
        watching.await("north.* °C, set 31");

        cable.close();
        watching.await("north.*(STALE|LOST)");
        int before = watching.said().length();
        plug();
        Waiting.until(
                SECONDS_MAX,
                () -> watching.said().substring(before).matches("(?s).*north  [0-9]{2}:.*"),
                watching::said);
    }

    @Test
    void anotherAgentAtThePairedLineIsRefusedWhateverItCallsItself()
            throws IOException, InterruptedException {
        PtyPair.assumeThatSocatIsThere();
        Path left = folder.resolve("left");
        Path right = folder.resolve("right");
        String rest = "[link.serial]\nport = \"" + left + "\"\n" + CABINET;
        Files.writeString(
                config, "[agent]\nname = \"egg room\"\nstate_folder = \"state\"\n" + rest);
        plug();
        Talk first = agent("run", "--announce");
        first.await("waiting for a monitor at the serial port");
        pairAt(right.toString());
        Matcher key =
                Pattern.compile("\nkey = \"(sha256:[0-9a-f]{64})\"\n")
                        .matcher(Files.readString(settings));
        assertTrue(key.find(), Files.readString(settings));
        Talk watching = monitor("watch", "--every", "1");
        watching.await("north.* °C, set 31");
        first.process.destroy();
        assertEquals(143, first.end(), first.said());

        Files.writeString(
                config, "[agent]\nname = \"egg room\"\nstate_folder = \"other\"\n" + rest);
        Talk second = agent("run", "--announce");
        second.await("waiting for a monitor at the serial port");
        watching.await("refused: its key is sha256:[0-9a-f]{64}, the settings say " + key.group(1));
    }

    private PtyPair plug() throws IOException {
        PtyPair cable = PtyPair.open(folder);
        cables.add(cable);
        return cable;
    }
}
