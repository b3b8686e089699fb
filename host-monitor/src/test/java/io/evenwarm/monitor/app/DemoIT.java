package io.evenwarm.monitor.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.testing.Waiting;
import java.io.BufferedReader;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Isolated;

/**
 * The demo as a person starts it, from the built start scripts: two processes, a link over TLS, a
 * store. However it ends, within 3 s nothing is left: no process, and so no port and no lock, and
 * no file.
 */
@Isolated("measures how long something takes")
final class DemoIT {

    private static final Path MONITOR = Path.of("target/dist/bin/evenwarm").toAbsolutePath();
    private static final Path AGENT =
            Path.of("../pi-agent/target/dist/bin/evenwarm-agent").toAbsolutePath().normalize();
    private static final int START_SECONDS_MAX = 60;
    private static final int END_SECONDS_MAX = 3;

    private final Path temporary;
    private final List<String> lines = new CopyOnWriteArrayList<>();
    private final List<ProcessHandle> started = new ArrayList<>();

    DemoIT(@TempDir Path temporary) {
        this.temporary = temporary;
    }

    /** Only for a test that failed. */
    @AfterEach
    void endWhatIsLeft() {
        started.forEach(ProcessHandle::destroyForcibly);
    }

    private Process start(String... command) throws IOException {
        ProcessBuilder builder = new ProcessBuilder(command).redirectErrorStream(true);
        builder.environment().put("EVENWARM_JAVA_OPTIONS", "-Djava.io.tmpdir=" + temporary);
        builder.environment().remove("DISPLAY");
        Process process = builder.start();
        started.add(process.toHandle());
        Thread reader = new Thread(() -> read(process), "demo output");
        reader.setDaemon(true);
        reader.start();
        return process;
    }

    private Process startDemo(String... more) throws IOException {
        List<String> command = new ArrayList<>();
        // A build that runs in the background has Ctrl-C ignored, and so would all it starts.
        command.addAll(
                List.of(
                        "env",
                        "--default-signal=INT",
                        MONITOR.toString(),
                        "demo",
                        "--headless",
                        "--speed",
                        "60",
                        "--agent",
                        AGENT.toString()));
        command.addAll(List.of(more));
        if (!command.contains("--past-days")) {
            command.addAll(List.of("--past-days", "0"));
        }
        return start(command.toArray(String[]::new));
    }

    private void read(Process process) {
        try (BufferedReader reader = process.inputReader(StandardCharsets.UTF_8)) {
            for (String line = reader.readLine(); line != null; line = reader.readLine()) {
                lines.add(line);
            }
        } catch (IOException ended) {
            lines.add("(" + ended.getMessage() + ")");
        }
    }

    private String output() {
        return String.join("\n", lines);
    }

    private void awaitLine(String beginning, String containing) {
        Waiting.until(
                START_SECONDS_MAX,
                () ->
                        lines.stream()
                                .anyMatch(l -> l.startsWith(beginning) && l.contains(containing)),
                () -> "no line " + beginning + "…" + containing + " in:\n" + output());
    }

    /** The agent's process, once the three cabinets have been seen alive. */
    private ProcessHandle awaitThreeCabinets(ProcessHandle demo) {
        for (String cabinet : List.of("Juniper", "Rowan", "Yew")) {
            awaitLine(cabinet, " °C, set 3");
        }
        List<ProcessHandle> children = demo.children().toList();
        assertEquals(1, children.size(), "one agent");
        started.addAll(children);
        return children.get(0);
    }

    private void assertNothingIsLeft(ProcessHandle... processes) {
        Waiting.until(
                END_SECONDS_MAX,
                () -> Stream.of(processes).noneMatch(ProcessHandle::isAlive),
                () -> "still running: " + List.of(processes) + "\n" + output());
        assertEquals(List.of(), demoFolders(), output());
    }

    private List<String> demoFolders() {
        try (Stream<Path> files = Files.list(temporary)) {
            return files.map(file -> file.getFileName().toString())
                    .filter(name -> name.startsWith("evenwarm-demo-"))
                    .toList();
        } catch (IOException e) {
            throw new AssertionError(e);
        }
    }

    private static long count(Connection connection, String sql) {
        try (Statement statement = connection.createStatement();
                ResultSet rows = statement.executeQuery(sql)) {
            rows.next();
            return rows.getLong(1);
        } catch (SQLException e) {
            throw new AssertionError(e);
        }
    }

    private static void signal(String name, ProcessHandle process)
            throws IOException, InterruptedException {
        Process kill = new ProcessBuilder("kill", "-" + name, "" + process.pid()).start();
        assertEquals(0, kill.waitFor());
    }

    @Test
    void threeCabinetsAreShownAndATerminatedDemoLeavesNothing()
            throws IOException, InterruptedException {
        Process demo = startDemo("--timings");
        ProcessHandle agent = awaitThreeCabinets(demo.toHandle());
        assertEquals(
                "Simulated cabinets: names and numbers are invented. Time runs 60× faster",
                lines.get(0));
        awaitLine("first curve after ", " s");
        // An agent says after 600 of its seconds that nobody has set its clock.
        Waiting.until(
                START_SECONDS_MAX,
                () -> lines.stream().filter(line -> line.startsWith("Juniper")).count() > 12,
                this::output);
        assertFalse(output().contains("ALARM"), output());
        assertEquals(1, demoFolders().size());
        signal("TERM", demo.toHandle());
        assertNothingIsLeft(demo.toHandle(), agent);
        assertFalse(output().contains("Exception"), output());
    }

    @Test
    void theDemoHasAPastThatIsSaidToBeInvented()
            throws IOException, InterruptedException, SQLException {
        Process demo = startDemo("--past-days", "20", "--timings");
        awaitLine("invented past after ", " s");
        assertEquals(
                "Simulated cabinets: names and numbers are invented, and so are the 20 days before."
                        + " Time runs 60× faster",
                lines.get(0));
        Path store = temporary.resolve(demoFolders().get(0)).resolve("monitor/history.sqlite");
        try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + store)) {
            assertEquals(
                    3,
                    count(
                            connection,
                            "SELECT count(DISTINCT cabinet_id) FROM record WHERE time_millis <"
                                    + " (SELECT max(time_millis) FROM record) - 19 * 86400000"));
            assertEquals(
                    3,
                    count(
                            connection,
                            "SELECT count(*) FROM log_entry WHERE code = 'mains-returned'"));
            assertTrue(
                    count(
                                    connection,
                                    "SELECT count(*) FROM alarm_change WHERE code = 'agent-silent'"
                                            + " AND who = 'the invented keeper'")
                            > 0,
                    "a keeper acknowledged the night without mains");
        }
        signal("TERM", demo.toHandle());
        assertNothingIsLeft(demo.toHandle());
        assertFalse(output().contains("Exception"), output());
    }

    @Test
    void aDemoThatEndsWhileItsPastIsToldLeavesNothing() throws IOException, InterruptedException {
        Process demo = startDemo("--past-days", "365");
        Waiting.until(
                START_SECONDS_MAX, () -> demo.toHandle().children().count() == 2, this::output);
        List<ProcessHandle> children = demo.toHandle().children().toList();
        started.addAll(children);
        signal("TERM", demo.toHandle());
        assertNothingIsLeft(
                Stream.concat(Stream.of(demo.toHandle()), children.stream())
                        .toArray(ProcessHandle[]::new));
        assertFalse(output().contains("There is no invented past"), output());
    }

    @Test
    void anInterruptedDemoLeavesNothing() throws IOException, InterruptedException {
        Process demo = startDemo();
        ProcessHandle agent = awaitThreeCabinets(demo.toHandle());
        // Ctrl-C goes to both, as they share the terminal.
        signal("INT", agent);
        signal("INT", demo.toHandle());
        assertNothingIsLeft(demo.toHandle(), agent);
        assertEquals(130, demo.waitFor(), "128 + SIGINT, as shells have it");
    }

    @Test
    void aDemoWithATimeLimitEndsByItself() throws IOException, InterruptedException {
        Process demo = startDemo("--seconds", "1");
        assertTrue(demo.waitFor(START_SECONDS_MAX, TimeUnit.SECONDS), output());
        assertEquals(0, demo.exitValue(), output());
        assertNothingIsLeft(demo.toHandle());
    }

    @Test
    void aDemoEndsWithTheProcessThatStartedIt() throws IOException, InterruptedException {
        // As Maven does: something starts the demo, waits for it, and is killed.
        Process parent =
                start(
                        "sh",
                        "-c",
                        "\"$0\" demo --headless --speed 60 --past-days 0 --agent \"$1\" --end-with-parent; true",
                        MONITOR.toString(),
                        AGENT.toString());
        Waiting.until(
                START_SECONDS_MAX, () -> parent.children().findAny().isPresent(), this::output);
        ProcessHandle demo = parent.children().findAny().orElseThrow();
        started.add(demo);
        ProcessHandle agent = awaitThreeCabinets(demo);
        signal("KILL", parent.toHandle());
        assertNothingIsLeft(demo, agent);
    }

    @Test
    void aDemoWhoseAgentDiesSaysSo() throws IOException, InterruptedException {
        Process demo = startDemo();
        ProcessHandle agent = awaitThreeCabinets(demo.toHandle());
        signal("KILL", agent);
        assertTrue(demo.waitFor(START_SECONDS_MAX, TimeUnit.SECONDS), output());
        assertEquals(1, demo.exitValue());
        assertTrue(output().contains("The agent ended by itself, with exit code 137."), output());
        assertNothingIsLeft(demo.toHandle(), agent);
    }

    @Test
    void theAgentOfAKilledDemoEndsAndTheNextDemoRemovesItsFolder()
            throws IOException, InterruptedException {
        Process demo = startDemo();
        ProcessHandle agent = awaitThreeCabinets(demo.toHandle());
        signal("KILL", demo.toHandle());
        Waiting.until(END_SECONDS_MAX, () -> !agent.isAlive(), () -> "the agent runs on");
        assertEquals(1, demoFolders().size(), "nobody was left to remove it");
        Process next = startDemo("--seconds", "1");
        assertTrue(next.waitFor(START_SECONDS_MAX, TimeUnit.SECONDS), output());
        assertNothingIsLeft(next.toHandle());
    }
}
