package io.evenwarm.agent.app;

import static org.junit.jupiter.api.Assertions.assertEquals;

import io.evenwarm.agent.driver.sysfs.OneWireText;
import io.evenwarm.agent.loop.CabinetLoop;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plan.ControlPlan;
import io.evenwarm.agent.plan.GuardPlan;
import io.evenwarm.agent.plan.ProbePlan;
import io.evenwarm.agent.port.CabinetOutputs;
import io.evenwarm.agent.serve.LocalClient;
import io.evenwarm.agent.testing.FakeOutput;
import io.evenwarm.agent.testing.FakeProbe;
import io.evenwarm.agent.testing.MemoryStores;
import io.evenwarm.agent.testing.Plans;
import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.SystemClock;
import io.evenwarm.link.LinkException;
import io.evenwarm.message.BootId;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Command;
import io.evenwarm.message.CommandOutcome;
import io.evenwarm.message.Finding;
import io.evenwarm.message.GuardState;
import io.evenwarm.message.Moment;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.Reading;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;

/**
 * Evidence whole-5, first half: an agent in its own process, on a folder of kernel-format sensor
 * files that a script changes while it runs, comes to the same readings, guard states and findings
 * as the same values fed in process on a virtual clock.
 */
@Tag("long")
@Execution(ExecutionMode.CONCURRENT)
@Timeout(value = 5, unit = TimeUnit.MINUTES)
final class SensorFilesIT {

    private static final long SECOND = 1_000_000_000L;
    private static final MonotonicClock CLOCK = SystemClock.monotonic();
    private static final double STALE_AFTER_SECONDS = 5;
    private static final List<String> POSITIONS = List.of("top", "middle", "bottom");

    /** What a sensor's file holds. */
    private sealed interface Content {
        /** A good conversion; thousandths of a degree, as the kernel shows them. */
        record Shows(double celsius) implements Content {}

        record WrongChecksum() implements Content {}

        record Garbage() implements Content {}

        record Gone() implements Content {}
    }

    /**
     * One part of the script.
     *
     * @param seconds how long it lasts in process: until nothing changes any more
     */
    private record Phase(
            String name,
            int seconds,
            boolean isReset,
            Content top,
            Content middle,
            Content bottom) {
        Content at(int probe) {
            return List.of(top, middle, bottom).get(probe);
        }
    }

    private static Content shows(double celsius) {
        return new Content.Shows(celsius);
    }

    private static final Content WRONG = new Content.WrongChecksum();
    private static final Content GARBAGE = new Content.Garbage();
    private static final Content GONE = new Content.Gone();

    private static final List<Phase> SCRIPT =
            List.of(
                    new Phase("even", 10, false, shows(31.4375), shows(31.3125), shows(31.25)),
                    new Phase("wrong checksum", 30, false, shows(31.5), WRONG, shows(31.25)),
                    new Phase("garbage, no file", 30, false, shows(31.5), GARBAGE, GONE),
                    new Phase("power-on value", 30, false, shows(85), GARBAGE, GONE),
                    new Phase("back", 20, false, shows(32), shows(31.5), shows(31.5)),
                    new Phase("warmer", 8, false, shows(33), shows(32), shows(31.5)),
                    new Phase("hot", 12, false, shows(33.5625), shows(32.5), shows(31.5)),
                    new Phase("cool", 6, false, shows(31), shows(31), shows(31)),
                    new Phase("reset", 10, true, shows(31), shows(31), shows(31)));

    /** What is compared of a snapshot: all but times and what control makes of it. */
    private record Seen(List<String> readings, GuardState guard, List<String> findings) {
        static Seen of(CabinetSnapshot snapshot) {
            return new Seen(
                    snapshot.probes().stream().map(Seen::reading).toList(),
                    snapshot.guard(),
                    snapshot.findings().stream().map(Seen::finding).toList());
        }

        private static String reading(ProbeReading probe) {
            String value =
                    probe.reading()
                            .fold(
                                    good -> "good " + good.value(),
                                    uncertain ->
                                            "uncertain " + uncertain.value() + uncertain.doubt(),
                                    bad -> "bad " + bad.doubt());
            return probe.probe() + ": " + value;
        }

        private static String finding(Finding finding) {
            return finding.code()
                    + finding.probe().map(probe -> " " + probe).orElse("")
                    + ": "
                    + finding.evidence()
                    + " | "
                    + finding.action();
        }
    }

    /** What a run came to. */
    private static final class Outcome {
        final List<Seen> ends = new ArrayList<>();
        final List<GuardState> guards = new ArrayList<>();
        final List<String> raised = new ArrayList<>();
        final List<CommandOutcome> resets = new ArrayList<>();

        void saw(CabinetSnapshot snapshot) {
            if (guards.isEmpty() || guards.get(guards.size() - 1) != snapshot.guard()) {
                guards.add(snapshot.guard());
            }
            for (Finding finding : snapshot.findings()) {
                String what = finding.code() + finding.probe().map(p -> " " + p).orElse("");
                if (!raised.contains(what)) {
                    raised.add(what);
                }
            }
        }
    }

    @TempDir private Path folder;

    @Test
    void anAgentOnSensorFilesComesToTheSameAsTheSameValuesInProcess() throws Exception {
        Outcome expected = inProcess();
        assertEquals(GuardState.TRIPPED, expected.ends.get(6).guard(), "the script must bite");
        Outcome found = asProcess(expected);
        assertEquals(expected.ends, found.ends);
        assertEquals(expected.guards, found.guards);
        assertEquals(
                expected.raised.stream().sorted().toList(),
                found.raised.stream().sorted().toList());
        assertEquals(expected.resets, found.resets);
        System.out.println(
                "whole-5 sensor files: "
                        + SCRIPT.size()
                        + " phases, guard "
                        + found.guards
                        + ", findings "
                        + found.raised
                        + ": process and in-process agree");
    }

    // --- in process ------------------------------------------------------------------------

    private static CabinetPlan plan() {
        List<ProbePlan> probes = new ArrayList<>();
        for (String position : POSITIONS) {
            probes.add(
                    new ProbePlan(
                            new ProbeName(position),
                            ProbePlace.of(position),
                            false,
                            0,
                            STALE_AFTER_SECONDS,
                            ProbePlan.Sensor.DS18B20));
        }
        CabinetPlan like = Plans.threeProbes();
        return new CabinetPlan(
                like.name(),
                probes,
                like.setPoint(),
                like.limits(),
                ControlPlan.defaults(),
                GuardPlan.defaults(),
                true,
                false);
    }

    private static Outcome inProcess() {
        List<FakeProbe> probes = List.of(new FakeProbe(), new FakeProbe(), new FakeProbe());
        MemoryStores stores = new MemoryStores();
        BootId boot = new BootId(new UUID(0, 1));
        CabinetLoop loop =
                new CabinetLoop(
                        plan(),
                        List.copyOf(probes),
                        new CabinetOutputs(
                                new FakeOutput("heater"),
                                Optional.of(new FakeOutput("cut-off")),
                                Optional.empty(),
                                Optional.empty()),
                        stores.latches(),
                        stores.setPoints(),
                        boot,
                        List.of());
        Outcome outcome = new Outcome();
        long now = 0;
        for (Phase phase : SCRIPT) {
            if (phase.isReset()) {
                loop.submit(new Command.ResetCutOff(Plans.NORTH), outcome.resets::add);
            }
            CabinetSnapshot last = null;
            for (int second = 0; second < phase.seconds(); second++) {
                now += SECOND;
                for (int i = 0; i < probes.size(); i++) {
                    feed(probes.get(i), phase.at(i), now);
                }
                last = loop.tick(new Moment(boot, now, Instant.EPOCH.plusNanos(now), true));
                outcome.saw(last);
            }
            if (last != null) {
                outcome.ends.add(Seen.of(last));
            }
        }
        return outcome;
    }

    private static void feed(FakeProbe probe, Content content, long now) {
        if (content instanceof Content.Shows shows) {
            probe.celsius(Math.floor(shows.celsius() * 1000) / 1000, now);
        } else if (content instanceof Content.WrongChecksum) {
            probe.fails(Reading.Doubt.CHECKSUM, now);
        } else if (content instanceof Content.Garbage) {
            probe.fails(Reading.Doubt.GARBLED, now);
        } else {
            probe.fails(Reading.Doubt.NOT_THERE, now);
        }
    }

    // --- as a process ----------------------------------------------------------------------

    private Outcome asProcess(Outcome expected) throws Exception {
        Path config = writeConfiguration();
        write(SCRIPT.get(0));
        Path log = Files.createFile(folder.resolve("agent.log"));
        Outcome outcome = new Outcome();
        try (AgentProcess agent =
                AgentProcess.start(log, "run", "--announce", "--config", config.toString())) {
            agent.line();
            try (LocalClient client = connect()) {
                for (int i = 0; i < SCRIPT.size(); i++) {
                    Phase phase = SCRIPT.get(i);
                    write(phase);
                    if (phase.isReset()) {
                        outcome.resets.add(client.ask(new Command.ResetCutOff(Plans.NORTH)));
                    }
                    outcome.ends.add(awaited(client, expected.ends.get(i), outcome));
                }
            }
            agent.terminate();
        }
        return outcome;
    }

    /** Monitors and local commands are served some moments after control has begun. */
    private LocalClient connect() throws LinkException, InterruptedException {
        long since = CLOCK.nanos();
        while (true) {
            try {
                return LocalClient.connect(
                        StateFolder.socketIn(folder.resolve("state")), "test", CLOCK);
            } catch (LinkException e) {
                if (CLOCK.nanos() - since > 20 * SECOND) {
                    throw e;
                }
                Thread.sleep(50);
            }
        }
    }

    /** Looks on until it sees what is expected; after a minute whatever it sees. */
    private static Seen awaited(LocalClient client, Seen expected, Outcome outcome)
            throws LinkException, InterruptedException {
        long since = CLOCK.nanos();
        while (true) {
            List<CabinetSnapshot> snapshots = client.status().cabinets();
            if (!snapshots.isEmpty()) {
                outcome.saw(snapshots.get(0));
                Seen seen = Seen.of(snapshots.get(0));
                if (seen.equals(expected) || CLOCK.nanos() - since > 60 * SECOND) {
                    return seen;
                }
            }
            Thread.sleep(50);
        }
    }

    private Path writeConfiguration() throws IOException {
        StringBuilder text =
                new StringBuilder(
                        """
                        [agent]
                        name = "files"
                        state_folder = "state"
                        [sensors]
                        one_wire_folder = "w1"
                        led_folder = "leds"
                        [[cabinet]]
                        name = "north"
                        set_point_celsius = 31.5
                          [cabinet.heater]
                          driver = "led"
                          line = "heater"
                          [cabinet.cut_off_relay]
                          driver = "led"
                          line = "cut-off"
                        """);
        for (int i = 0; i < POSITIONS.size(); i++) {
            text.append(
                    """
                      [[cabinet.probe]]
                      name = "%s"
                      position = "%s"
                      driver = "one-wire"
                      address = "%s"
                      stale_after_seconds = %s
                    """
                            .formatted(
                                    POSITIONS.get(i),
                                    POSITIONS.get(i),
                                    address(i),
                                    STALE_AFTER_SECONDS));
            Files.createDirectories(folder.resolve("w1").resolve(address(i)));
        }
        for (String line : List.of("heater", "cut-off")) {
            Path led = Files.createDirectories(folder.resolve("leds").resolve(line));
            Files.writeString(led.resolve("brightness"), "0\n");
        }
        return Files.writeString(folder.resolve("agent.toml"), text);
    }

    private static String address(int probe) {
        return "28-00000000000" + (probe + 1);
    }

    /** Each file whole or not at all, as the kernel's are. */
    private void write(Phase phase) throws IOException {
        for (int i = 0; i < POSITIONS.size(); i++) {
            Path file = folder.resolve("w1").resolve(address(i)).resolve("w1_slave");
            Content content = phase.at(i);
            if (content instanceof Content.Gone) {
                Files.deleteIfExists(file);
                continue;
            }
            String text =
                    content instanceof Content.Shows shows
                            ? OneWireText.good(shows.celsius())
                            : content instanceof Content.WrongChecksum
                                    ? OneWireText.wrongChecksum(12)
                                    : "what is this\n";
            Path unfinished = folder.resolve("unfinished");
            Files.writeString(unfinished, text, StandardCharsets.US_ASCII);
            Files.move(unfinished, file, StandardCopyOption.ATOMIC_MOVE);
        }
    }
}
