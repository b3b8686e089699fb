package io.evenwarm.monitor.chain;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.journal.Journal;
import io.evenwarm.agent.journal.JournalSettings;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plan.ControlPlan;
import io.evenwarm.agent.plan.GuardPlan;
import io.evenwarm.agent.plan.ProbePlan;
import io.evenwarm.agent.plant.CabinetBuild;
import io.evenwarm.agent.plant.PlantFault;
import io.evenwarm.agent.plant.PlantTruth;
import io.evenwarm.agent.port.SnapshotListener;
import io.evenwarm.agent.rehearsal.VirtualRun;
import io.evenwarm.agent.serve.MonitorServer;
import io.evenwarm.agent.serve.RunState;
import io.evenwarm.agent.serve.ServeContext;
import io.evenwarm.agent.serve.SnapshotBoard;
import io.evenwarm.clock.SystemClock;
import io.evenwarm.message.AgentName;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Command;
import io.evenwarm.message.CommandOutcome;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.Limits;
import io.evenwarm.message.Moment;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.monitor.history.CabinetCurves;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.Curve;
import io.evenwarm.monitor.history.LogEntry;
import io.evenwarm.monitor.history.ProbeCurve;
import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.monitor.intake.AgentAddress;
import io.evenwarm.monitor.intake.Intake;
import io.evenwarm.monitor.intake.IntakeContext;
import io.evenwarm.monitor.live.LiveModel;
import io.evenwarm.monitor.store.HistoryStore;
import io.evenwarm.monitor.store.StoreException;
import io.evenwarm.quantity.Temperature;
import io.evenwarm.testing.Waiting;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.atomic.AtomicReference;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Probe to curve in one process: the agent's own loop, guard, control, journal and sessions run on
 * a simulated cabinet on the virtual clock; intake and store are the monitor's own. What the curves
 * show is compared with what the agent saw, value by value, and with what the cabinet really did.
 */
final class WholeChainIT {

    private static final AgentName AGENT = new AgentName("trial room");
    private static final CabinetName CABINET = new CabinetName("trial");
    private static final CabinetKey KEY = new CabinetKey(AGENT, CABINET);
    private static final int HOURS = 5;
    private static final int SECONDS_MAX = 60;
    private static final int INTERVAL_SECONDS = 5;
    private static final long SEED = 11;

    /** The journal keeps values to this; finer than any probe reads. */
    private static final double KEPT_KELVIN = 0.001;

    /** The air's truth and a reading of it: rounding of 1/32 K, noise, and 30 s of lag. */
    private static final double READING_KELVIN = 0.6;

    /** The journal needs the run's clock, and the run its listeners. */
    private static final class Relay implements SnapshotListener {
        private Optional<SnapshotListener> listener = Optional.empty();

        void to(SnapshotListener other) {
            listener = Optional.of(other);
        }

        @Override
        public void published(CabinetSnapshot snapshot) {
            listener.ifPresent(there -> there.published(snapshot));
        }
    }

    private record Seen(CabinetSnapshot snapshot, PlantTruth truth) {}

    private static Temperature celsius(double value) {
        return Temperature.ofCelsius(value);
    }

    private static final int MAINS_GO_SECOND = 2 * 3600;
    private static final int MAINS_COME_SECOND = MAINS_GO_SECOND + 5400;

    /** Warm by then, the cabinet gets too cold, and warm again before the end. */
    private static final PlantFault MAINS_CUT = new PlantFault.MainsCut();

    private static CabinetPlan plan() {
        return new CabinetPlan(
                CABINET,
                List.of(probe("top", ProbePlace.TOP), probe("bottom", ProbePlace.BOTTOM)),
                celsius(31.5),
                new Limits(celsius(30.5), celsius(32.5), celsius(33.5), celsius(34.5)),
                ControlPlan.defaults(),
                GuardPlan.defaults(),
                true,
                true);
    }

    private static ProbePlan probe(String name, ProbePlace place) {
        return new ProbePlan(new ProbeName(name), place, false, 0, 10, ProbePlan.Sensor.DS18B20);
    }

    @Test
    void theCurvesShowWhatTheAgentSawAndWhatTheCabinetDid(@TempDir Path folder) throws IOException {
        Map<Long, Seen> truth = new HashMap<>();
        AtomicReference<Moment> now = new AtomicReference<>();
        SnapshotBoard board = new SnapshotBoard(List.of(CABINET));
        Relay toJournal = new Relay();
        VirtualRun run =
                new VirtualRun(
                        CabinetBuild.ofVolume(80, 1.0, 3).withStart(21),
                        plan(),
                        SEED,
                        List.of(snapshot -> now.set(snapshot.moment()), board, toJournal));
        Journal journal =
                new Journal(
                        new JournalSettings(
                                folder.resolve("journal.sqlite"),
                                INTERVAL_SECONDS,
                                10,
                                400,
                                2_000_000_000L),
                        run.clock(),
                        run.clock());
        toJournal.to(journal);
        MemoryPort port = new MemoryPort();
        LiveModel live = new LiveModel(SystemClock.monotonic(), List.of(AGENT));
        // The first tick gives the sessions a time to tell.
        tick(run, journal, truth);
        try (HistoryStore store = HistoryStore.open(folder.resolve("monitor"));
                MonitorServer server = new MonitorServer(context(run, now, board, journal))) {
            server.listen("memory", () -> port.listener(), MonitorServer.MAX_MONITORS);
            Intake intake = intake(store, live, port);
            try (intake) {
                Waiting.until(
                        SECONDS_MAX,
                        () -> live.agents().get(0).connected(),
                        () -> live.agents().toString());
                for (int s = 1; s < HOURS * 3600; s++) {
                    tick(run, journal, truth);
                    if (s == 3600) {
                        port.cut();
                    } else if (s == MAINS_GO_SECOND) {
                        run.cabinet().inject(MAINS_CUT);
                    } else if (s == MAINS_COME_SECOND) {
                        run.cabinet().clear(MAINS_CUT);
                    }
                }
                Waiting.until(
                        SECONDS_MAX,
                        () -> live.agents().get(0).connected(),
                        () -> live.agents().toString());
                CommandOutcome outcome =
                        answer(
                                run,
                                journal,
                                truth,
                                intake.send(
                                        AGENT, new Command.SetSetPoint(CABINET, celsius(31.0))));
                assertTrue(outcome instanceof CommandOutcome.Done, outcome.words());
                journal.close();
                Waiting.until(
                        SECONDS_MAX,
                        () -> stored(store, journalName(store)) == journal.lastCommittedSequence(),
                        () ->
                                stored(store, journalName(store))
                                        + " of "
                                        + journal.lastCommittedSequence()
                                        + "; "
                                        + live.agents());
            }
            compare(store, truth);
        }
    }

    /** Ticks on until the agent has carried the command out. */
    private static CommandOutcome answer(
            VirtualRun run,
            Journal journal,
            Map<Long, Seen> truth,
            CompletableFuture<CommandOutcome> command) {
        Waiting.until(
                SECONDS_MAX,
                () -> {
                    tick(run, journal, truth);
                    return command.isDone();
                },
                () -> "no answer");
        for (int s = 0; s < 2 * INTERVAL_SECONDS; s++) {
            tick(run, journal, truth);
        }
        return command.join();
    }

    private static void tick(VirtualRun run, Journal journal, Map<Long, Seen> truth) {
        PlantTruth before = run.cabinet().truth();
        CabinetSnapshot snapshot = run.second();
        truth.put(snapshot.moment().wall().toEpochMilli(), new Seen(snapshot, before));
        journal.step(run.clock().nanos());
    }

    private static ServeContext context(
            VirtualRun run, AtomicReference<Moment> now, SnapshotBoard board, Journal journal) {
        return new ServeContext(
                AGENT,
                "test",
                1,
                now::get,
                board,
                journal,
                run.loop(),
                SystemClock.monotonic(),
                List::of,
                RunState.NONE);
    }

    private static Intake intake(HistoryStore store, LiveModel live, MemoryPort port) {
        return Intake.start(
                new IntakeContext("desk", "test", store, live, SystemClock.monotonic(), SEED),
                List.of(new AgentAddress(AGENT, "memory", port)));
    }

    private static String journalName(HistoryStore store) {
        try {
            return store.newestJournal(AGENT).map(position -> position.journal()).orElse("");
        } catch (StoreException e) {
            throw new AssertionError(e);
        }
    }

    private static long stored(HistoryStore store, String journal) {
        try {
            return store.lastSequence(AGENT, journal);
        } catch (StoreException e) {
            throw new AssertionError(e);
        }
    }

    private static void compare(HistoryStore store, Map<Long, Seen> truth) {
        TimeSpan all = new TimeSpan(Instant.EPOCH, Instant.parse("2100-01-01T00:00:00Z"));
        CabinetCurves curves = store.everyReading(KEY, all);
        assertEquals(
                List.of("top", "bottom"),
                curves.probes().stream().map(p -> p.probe().value()).toList());
        int compared = 0;
        for (ProbeCurve probe : curves.probes()) {
            compared += compare(probe, truth);
        }
        // One record an interval and two probes; the first readings are bad.
        int expected = 2 * truth.size() / INTERVAL_SECONDS;
        assertTrue(Math.abs(compared - expected) < 10, compared + " values instead of " + expected);
        compareHeater(curves.heaterOnFraction(), truth);
        Curve setPoint = curves.setPointCelsius();
        assertEquals(31.5, setPoint.value(0));
        assertEquals(31.0, setPoint.value(setPoint.size() - 1), "the command reached the history");
        // The limits that a person is told of move along with the set point; the guard's do not.
        assertEquals(
                Optional.of(new Limits(celsius(30), celsius(32), celsius(33.5), celsius(34.5))),
                curves.limits());
        checkLog(store.log(Optional.of(KEY), all, 100));
    }

    /** Returns how many values were compared. */
    private static int compare(ProbeCurve probe, Map<Long, Seen> truth) {
        int compared = 0;
        for (int i = 0; i < probe.curve().size(); i++) {
            Seen seen = truth.get(probe.curve().epochMillis(i));
            if (seen == null) {
                throw new AssertionError("no tick at " + probe.curve().epochMillis(i));
            }
            Optional<Double> read = read(seen.snapshot, probe.probe());
            double value = probe.curve().value(i);
            assertEquals(read.isEmpty(), Double.isNaN(value), "bad readings and gaps");
            if (read.isPresent()) {
                assertEquals(read.get(), value, KEPT_KELVIN);
                double air =
                        probe.place().equals(ProbePlace.TOP)
                                ? seen.truth.topAirCelsius()
                                : seen.truth.bottomAirCelsius();
                assertEquals(air, value, READING_KELVIN, probe.place() + " at point " + i);
                compared++;
            }
        }
        return compared;
    }

    private static Optional<Double> read(CabinetSnapshot snapshot, ProbeName probe) {
        return snapshot.probes().stream()
                .filter(reading -> reading.probe().equals(probe))
                .map(ProbeReading::reading)
                .flatMap(reading -> reading.quantity().stream())
                .map(quantity -> quantity.<Double>fold(t -> t.celsius(), h -> h.percent()))
                .findFirst();
    }

    /** The heater's share of each interval, against the ticks in which it was energised. */
    private static void compareHeater(Curve heater, Map<Long, Seen> truth) {
        for (int i = 1; i < heater.size(); i++) {
            int ticks = 0;
            int heated = 0;
            for (long t = heater.epochMillis(i - 1) + 1000; t <= heater.epochMillis(i); t += 1000) {
                Seen seen = truth.get(t);
                ticks++;
                heated += seen != null && seen.snapshot.heaterOn() ? 1 : 0;
            }
            assertEquals((double) heated / ticks, heater.value(i), 0.001, "interval " + i);
        }
    }

    private static void checkLog(List<LogEntry> log) {
        LogEntry cold =
                log.stream()
                        .filter(e -> e.code().equals(Optional.of(FindingCode.TOO_COLD)))
                        .reduce((newer, older) -> older)
                        .orElseThrow(() -> new AssertionError("never too cold: " + log));
        assertTrue(cold.end().isPresent(), "it warmed up: " + cold);
        assertTrue(
                log.stream().anyMatch(e -> e.code().isEmpty() && e.words().contains("31.0")),
                "the new set point has a line: " + log);
    }
}
