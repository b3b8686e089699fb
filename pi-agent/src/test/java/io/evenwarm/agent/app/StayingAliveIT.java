package io.evenwarm.agent.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.SystemClock;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/**
 * Evidence guard-6: whatever becomes of the agent, its outputs are off within 10 s. The outputs
 * live in a second process; the agent runs under a stand-in for the service manager that does what
 * the shipped unit file says. All cases run side by side, and a table of measured times is printed.
 */
@Timeout(value = 3, unit = TimeUnit.MINUTES)
final class StayingAliveIT {

    private static final long MOST_MILLIS = 10_000;
    private static final long GIVE_UP_MILLIS = 20_000;
    private static final long READY_MILLIS = 120_000;

    /** Between two faults, so that what follows on them does not all compute at once. */
    private static final long APART_MILLIS = 500;

    private static final MonotonicClock CLOCK = SystemClock.monotonic();

    @TempDir private Path folder;

    /** What the lines do when the process that drives them dies. */
    enum Lines {
        KEPT,
        RELEASED
    }

    /** How an agent is lost. */
    private enum Case {
        THREAD("control thread ends by an exception", "thread", ""),
        DEADLOCK("control thread in a deadlock", "deadlock", "watchdog"),
        MEMORY("OutOfMemoryError in the control thread", "memory", ""),
        PROBES("the probes' bus blocks", "", ""),
        LINE("the heater line's bus blocks", "", "watchdog"),
        STOPPED("SIGSTOP", "", "watchdog"),
        KILLED("SIGKILL", "", ""),
        TOLD("SIGTERM", "", ""),
        SILENT("agent well, its messages lost", "", "watchdog");

        private final String words;
        private final String fault;
        private final String killedBy;

        /**
         * @param fault for {@link FaultyAgent}; empty for none
         * @param killedBy what makes the service manager kill it; empty when it ends by itself
         */
        Case(String words, String fault, String killedBy) {
            this.words = words;
            this.fault = fault;
            this.killedBy = killedBy;
        }
    }

    /** What was measured; times in ms from the fault. */
    private record Outcome(Rig rig, long heatOffMillis, Optional<Long> allOffMillis) {}

    @ParameterizedTest
    @EnumSource(Lines.class)
    void whateverBecomesOfTheAgentItsOutputsAreOffWithinTenSeconds(Lines lines) throws Exception {
        UnitFile unit = UnitFile.read();
        Map<Case, Path> folders = new EnumMap<>(Case.class);
        for (Case each : Case.values()) {
            Path made = Files.createDirectories(folder.resolve(each.name()));
            if (lines == Lines.RELEASED) {
                Files.createFile(made.resolve("release"));
            }
            folders.put(each, made);
        }
        Process kernel = LinesProcess.start(List.copyOf(folders.values()));
        ExecutorService threads = Executors.newCachedThreadPool();
        List<Rig> rigs = new ArrayList<>();
        try {
            List<Future<Rig>> starting = new ArrayList<>();
            folders.forEach(
                    (each, at) -> starting.add(threads.submit(() -> new Rig(each, at, unit))));
            for (Future<Rig> each : starting) {
                rigs.add(each.get());
            }
            for (Rig rig : rigs) {
                rig.awaitHeat();
            }
            List<Future<Outcome>> running = new ArrayList<>();
            for (Rig rig : rigs) {
                running.add(threads.submit(rig::fail));
                Thread.sleep(APART_MILLIS);
            }
            List<Outcome> outcomes = new ArrayList<>();
            for (Future<Outcome> each : running) {
                outcomes.add(each.get());
            }
            System.out.print(table(lines, outcomes));
            for (Outcome each : outcomes) {
                each.rig().check(each);
            }
            assertTrue(kernel.isAlive(), "the outputs' process lives through it all");
        } finally {
            for (Rig rig : rigs) {
                rig.close();
            }
            threads.shutdownNow();
            kernel.destroyForcibly();
        }
    }

    /**
     * The hardware that is left when no service manager is: with {@code pulsed = true} the cut-off
     * relay stays closed only while its line keeps changing.
     */
    @Test
    void aPulsedRelayEnableOpensWithoutAnyServiceManager() throws Exception {
        List<String> signals = List.of("STOP", "KILL");
        List<Path> folders = new ArrayList<>();
        for (String signal : signals) {
            folders.add(Files.createDirectories(folder.resolve(signal)));
        }
        Process kernel = LinesProcess.start(folders);
        List<AgentProcess> agents = new ArrayList<>();
        try {
            for (Path at : folders) {
                Path config = at.resolve("agent.toml");
                String plain = Files.readString(config);
                String line = "line = \"cut-off\"\n";
                assertTrue(plain.contains(line), plain);
                Files.writeString(config, plain.replace(line, line + "pulsed = true\n"));
                agents.add(
                        AgentProcess.start(
                                at.resolve("log"), "run", "--config", config.toString()));
            }
            for (Path at : folders) {
                await(() -> isEnabled(at) && isHeaterOn(at));
            }
            // It holds for as long as the ticks come.
            for (int look = 0; look < 50; look++) {
                for (Path at : folders) {
                    assertTrue(isEnabled(at), () -> at + " dropped out while its agent was well");
                }
                Thread.sleep(100);
            }
            for (int i = 0; i < signals.size(); i++) {
                long since = CLOCK.nanos();
                ServiceManagerStandIn.signal(agents.get(i).process(), signals.get(i));
                Path at = folders.get(i);
                await(() -> !isEnabled(at));
                long millis = (CLOCK.nanos() - since) / 1_000_000;
                System.out.printf(
                        Locale.ROOT,
                        "guard-6 %-40s pulsed enable, no service manager: heat off after %5d ms%n",
                        "SIG" + signals.get(i),
                        millis);
                assertTrue(millis <= MOST_MILLIS);
                assertTrue(isHeaterOn(at), "the heater's own line is left on");
            }
            assertTrue(kernel.isAlive());
        } finally {
            agents.forEach(AgentProcess::close);
            kernel.destroyForcibly();
        }
    }

    private static boolean isEnabled(Path at) throws IOException {
        return Files.readString(at.resolve("enable")).equals("1");
    }

    private static boolean isHeaterOn(Path at) throws IOException {
        return Files.readString(at.resolve("leds").resolve("heater").resolve("brightness"))
                .strip()
                .equals("1");
    }

    private static void await(Callable<Boolean> wanted) throws Exception {
        long since = CLOCK.nanos();
        while (!wanted.call()) {
            assertTrue((CLOCK.nanos() - since) / 1_000_000 < READY_MILLIS, "it does not come");
            Thread.sleep(10);
        }
    }

    private static String table(Lines lines, List<Outcome> outcomes) {
        StringBuilder text = new StringBuilder(1000);
        for (Outcome each : outcomes) {
            text.append(
                    String.format(
                            Locale.ROOT,
                            "guard-6 %-40s lines %-8s heat off after %5d ms, all lines after %s%n",
                            each.rig().which.words,
                            lines.name().toLowerCase(Locale.ROOT),
                            each.heatOffMillis(),
                            each.allOffMillis()
                                    .map(millis -> String.format(Locale.ROOT, "%5d ms", millis))
                                    .orElse("- (it lives: fan and buzzer go on)")));
        }
        return text.toString();
    }

    /** One agent with its lines, under its service manager. */
    private static final class Rig implements AutoCloseable {
        private final Case which;
        private final Path folder;
        private final ServiceManagerStandIn manager;

        Rig(Case which, Path folder, UnitFile unit) throws Exception {
            this.which = which;
            this.folder = folder;
            Path script = which.fault.isEmpty() ? AgentProcess.SCRIPT : faultyScript(folder);
            this.manager =
                    new ServiceManagerStandIn(
                            unit,
                            script,
                            folder.resolve("agent.toml"),
                            Files.createFile(folder.resolve("log")),
                            Map.of(
                                    "EVENWARM_JAVA_OPTIONS",
                                    "-Dfault.file=" + folder.resolve("fault")));
            Files.writeString(folder.resolve("holder.new"), Long.toString(manager.pid()));
            Files.move(folder.resolve("holder.new"), folder.resolve("holder"));
        }

        /** The packaged start script, with its flags, for {@link FaultyAgent}. */
        private static Path faultyScript(Path folder) throws IOException {
            Path home =
                    AgentProcess.SCRIPT.toAbsolutePath().resolve("..").resolve("..").normalize();
            Path classes = Path.of("target", "test-classes").toAbsolutePath();
            String text =
                    Files.readString(AgentProcess.SCRIPT)
                            .replaceFirst("(?m)^home=.*$", "home='" + home + "'")
                            .replace("$home/lib/*", "$home/lib/*:" + classes)
                            .replace(AgentMain.class.getName(), FaultyAgent.class.getName());
            Path script = Files.writeString(folder.resolve("faulty-agent"), text);
            Files.setPosixFilePermissions(script, PosixFilePermissions.fromString("rwx------"));
            return script;
        }

        void awaitHeat() throws Exception {
            long since = CLOCK.nanos();
            while (!(isOn("heater") && isOn("cut-off") && isOn("fan"))) {
                assertTrue(
                        manager.isMainAlive() && millisSince(since) < READY_MILLIS,
                        () -> which + " does not heat:\n" + manager.log());
                Thread.sleep(20);
            }
        }

        /** Does it, and looks until everything is off. */
        Outcome fail() throws Exception {
            long since = CLOCK.nanos();
            switch (which) {
                case THREAD, DEADLOCK, MEMORY -> put("fault", which.fault);
                case PROBES -> put("hang", "probes");
                case LINE -> put("hang", "heater");
                case STOPPED -> manager.signal("STOP");
                case KILLED -> manager.signal("KILL");
                case TOLD -> manager.stop();
                case SILENT -> manager.deafen();
            }
            long heatOff = -1;
            while (millisSince(since) < GIVE_UP_MILLIS) {
                if (heatOff < 0 && !(isOn("heater") && isOn("cut-off"))) {
                    heatOff = millisSince(since);
                }
                if (!isAnyOn()) {
                    return new Outcome(this, heatOff, Optional.of(millisSince(since)));
                }
                if (heatOff >= 0 && which == Case.PROBES) {
                    return new Outcome(this, heatOff, Optional.empty());
                }
                Thread.sleep(10);
            }
            return new Outcome(
                    this, heatOff < 0 ? GIVE_UP_MILLIS : heatOff, Optional.of(GIVE_UP_MILLIS));
        }

        private void put(String name, String word) throws IOException {
            Path unfinished = Files.writeString(folder.resolve(name + ".new"), word);
            Files.move(unfinished, folder.resolve(name));
        }

        private boolean isAnyOn() throws IOException {
            // A line that blocks shows nothing; its heat goes with the cut-off relay's.
            return (which != Case.LINE && isOn("heater"))
                    || isOn("cut-off")
                    || isOn("fan")
                    || isOn("buzzer");
        }

        private boolean isOn(String line) throws IOException {
            Path file = folder.resolve("leds").resolve(line).resolve("brightness");
            // A pipe must not be opened: it would block. Its line keeps the level that it had.
            return !Files.isRegularFile(file, LinkOption.NOFOLLOW_LINKS)
                    || Files.readString(file).strip().equals("1");
        }

        void check(Outcome outcome) throws Exception {
            String log = which + "\n" + manager.said() + "\n" + manager.log();
            assertTrue(outcome.heatOffMillis() <= MOST_MILLIS, log);
            assertEquals(which.killedBy, manager.killed().orElse(""), log);
            if (which == Case.PROBES) {
                assertTrue(manager.isMainAlive(), log);
                assertTrue(!isOn("heater") && !isOn("cut-off"), log);
                return;
            }
            assertTrue(outcome.allOffMillis().orElse(GIVE_UP_MILLIS) <= MOST_MILLIS, log);
            // With the heater's line blocked there is one that nobody can drive off.
            assertEquals(
                    which == Case.LINE ? ExitCode.NO : ExitCode.DONE, manager.awaitStopPost(), log);
            assertTrue(!isAnyOn(), log);
        }

        private static long millisSince(long sinceNanos) {
            return (CLOCK.nanos() - sinceNanos) / 1_000_000;
        }

        @Override
        public void close() throws IOException {
            manager.close();
        }
    }
}
