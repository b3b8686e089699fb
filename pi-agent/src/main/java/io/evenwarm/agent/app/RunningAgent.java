package io.evenwarm.agent.app;

import io.evenwarm.agent.driver.watchdog.ServiceManager;
import io.evenwarm.agent.durable.LifeNote;
import io.evenwarm.agent.journal.Journal;
import io.evenwarm.agent.journal.JournalSettings;
import io.evenwarm.agent.journal.RunStart;
import io.evenwarm.agent.loop.AgentLoop;
import io.evenwarm.agent.loop.CabinetLoop;
import io.evenwarm.agent.loop.JournalTrouble;
import io.evenwarm.agent.loop.LoopClock;
import io.evenwarm.agent.loop.SaveThread;
import io.evenwarm.agent.plant.ScaledClock;
import io.evenwarm.agent.port.CabinetDevices;
import io.evenwarm.agent.port.KeptStores;
import io.evenwarm.agent.port.SnapshotListener;
import io.evenwarm.agent.serve.PairingDesk;
import io.evenwarm.agent.serve.ServeContext;
import io.evenwarm.agent.serve.SnapshotBoard;
import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.TrueTime;
import io.evenwarm.clock.WallClock;
import io.evenwarm.codec.JsonText;
import io.evenwarm.message.BootId;
import io.evenwarm.message.Moment;
import java.lang.System.Logger;
import java.lang.System.Logger.Level;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Consumer;

/**
 * An agent from its start to its end.
 *
 * <p>Start: every line off, then latches and set points, then the control loop with its lapse
 * timers and the readers of the buses, and only then the journal and the links, of which control
 * needs none. End: every line off first, for good.
 */
final class RunningAgent implements AutoCloseable {

    private static final Logger LOG = System.getLogger(RunningAgent.class.getName());
    private static final long MEGABYTE = 1_000_000;
    private static final long TLS_SECONDS = 10;

    private final AgentConfiguration configuration;
    private final StateFolder state;
    private final BootId boot = new BootId(UUID.randomUUID());
    private final MonotonicClock monotonic;
    private final TrueTime time;
    private final LoopClock clock;
    private final Hardware hardware;
    private final SaveThread saves = new SaveThread();
    private final Journal journal;
    private final SnapshotBoard board;
    private final LifeKeeper life;
    private final AgentLoop loop;
    private final OutsideWatch outside;
    private volatile boolean isStarted;
    private volatile boolean isDead;
    private volatile Optional<MonitorLinks> links = Optional.empty();
    private volatile Optional<Beacons> beacons = Optional.empty();

    private RunningAgent(
            AgentConfiguration configuration,
            MonotonicClock monotonic,
            WallClock wall,
            StateFolder state,
            ServiceManager manager) {
        this.configuration = configuration;
        this.state = state;
        this.monotonic = monotonic;
        this.time =
                new TrueTime(
                        monotonic,
                        configuration.simulation().isClockSet() ? wall.takenAsSet() : wall);
        this.clock = clock(configuration, monotonic, time);
        this.hardware = Hardware.of(configuration, monotonic);
        hardware.driveAllOff();
        // Only what snapshots are handed to is made here; nothing opens before control runs.
        this.journal = new Journal(journalSettings(), monotonic, clock.wall());
        this.board =
                new SnapshotBoard(
                        configuration.cabinets().stream()
                                .map(cabinet -> cabinet.plan().name())
                                .toList());
        this.life = new LifeKeeper(configuration.stateFolder(), time, this::now);
        this.outside = new OutsideWatch(manager, configuration.watchdog());
        SnapshotListener told =
                new JournalTrouble(
                        () -> journal.health().trouble(), List.of(journal, board, outside));
        this.loop =
                new AgentLoop(
                        cabinetLoops(List.of(told)),
                        boot,
                        clock,
                        List.of(hardware::stepSimulated),
                        outside);
    }

    /** As the other, with no service manager. */
    static RunningAgent prepare(
            AgentConfiguration configuration, MonotonicClock monotonic, WallClock wall)
            throws StateFolder.TakenException {
        return prepare(configuration, monotonic, wall, ServiceManager.none());
    }

    /**
     * Makes an agent with every line off; {@link #start} gives it its life.
     *
     * @param manager hears that the agent lives
     * @throws StateFolder.TakenException when another agent runs on the state folder; no line was
     *     touched then, since the lines are that agent's
     */
    static RunningAgent prepare(
            AgentConfiguration configuration,
            MonotonicClock monotonic,
            WallClock wall,
            ServiceManager manager)
            throws StateFolder.TakenException {
        StateFolder state = StateFolder.open(configuration.stateFolder());
        return new RunningAgent(configuration, monotonic, wall, state, manager);
    }

    /**
     * Starts control, then what tells of it.
     *
     * @param whenDead called when control has ended by a fault; all lines are off by then
     */
    void start(Consumer<Throwable> whenDead) {
        isStarted = true;
        hardware.startReaders();
        outside.start();
        loop.start(
                cause -> {
                    isDead = true;
                    whenDead.accept(cause);
                });
        try {
            journal.agentStarted(now(), startWords(), runStart());
            journal.start();
            life.start();
            links = Optional.of(MonitorLinks.open(configuration, serveContext()));
            beacons =
                    Optional.of(
                            Beacons.start(
                                    configuration,
                                    board,
                                    monotonic,
                                    () -> links.filter(MonitorLinks::isMonitorThere).isPresent()));
        } catch (RuntimeException | LinkageError e) {
            // For example a native library that this machine lacks: eggs are kept warm without it.
            LOG.log(Level.ERROR, "journal or links can't start; control goes on without", e);
        }
    }

    private ServeContext serveContext() {
        return new ServeContext(
                configuration.name(),
                "evenwarm-agent " + AgentCommand.Version.text(),
                clock.speed(),
                this::now,
                board,
                journal,
                loop,
                monotonic,
                () -> links.map(MonitorLinks::troubles).orElse(List.of()),
                new OwnRun(time, life, journal, clock.speed() == 1),
                new PairingDesk(
                        configuration.name(),
                        KnownMonitors.of(configuration),
                        () -> StateFolder.identity(configuration.stateFolder()),
                        monotonic),
                Optional.of(SensorNames.of(configuration)));
    }

    private RunStart runStart() {
        return new RunStart(
                life.machineBoot(),
                life.left()
                        .map(
                                left ->
                                        new RunStart.Earlier(
                                                Optional.of(left.machineBoot()),
                                                left.hasEnded(),
                                                left.lastAlive())));
    }

    private static LoopClock clock(
            AgentConfiguration configuration, MonotonicClock monotonic, TrueTime wall) {
        double speed = configuration.simulation().speed();
        if (speed == 1) {
            return LoopClock.real(monotonic, wall);
        }
        ScaledClock scaled = new ScaledClock(monotonic, wall, speed);
        return new LoopClock(scaled, scaled, monotonic, speed);
    }

    private JournalSettings journalSettings() {
        AgentConfiguration.JournalPlan plan = configuration.journal();
        return new JournalSettings(
                state.journal(),
                plan.intervalSeconds(),
                plan.commitSeconds(),
                plan.keepDays(),
                plan.maximumMegabytes() * MEGABYTE);
    }

    /** A cabinet that can't be made stays off; it keeps no other from its heat. */
    private List<CabinetLoop> cabinetLoops(List<SnapshotListener> listeners) {
        Optional<LifeNote.PowerCut> cut = life.powerCut();
        KeptStores kept = state.kept();
        List<CabinetLoop> loops = new ArrayList<>();
        for (Hardware.Cabinet cabinet : hardware.cabinets()) {
            try {
                CabinetLoop made =
                        new CabinetLoop(
                                cabinet.settings().plan(),
                                new CabinetDevices(
                                        cabinet.probes(), cabinet.outputs(), cabinet.inputs()),
                                kept,
                                boot,
                                listeners,
                                saves);
                cut.ifPresent(power -> made.machineWasOff(power.lastAlive()));
                loops.add(made);
            } catch (RuntimeException e) {
                LOG.log(
                        Level.ERROR,
                        "cabinet "
                                + cabinet.settings().plan().name()
                                + " can't be started and stays off",
                        e);
            }
        }
        return loops;
    }

    private String startWords() {
        String speed = configuration.isSimulated() ? ", simulated at speed " + clock.speed() : "";
        return "agent started, version " + AgentCommand.Version.text() + speed;
    }

    private Moment now() {
        // In this order: see AgentLoop.step.
        boolean isTrusted = clock.wall().isTrusted();
        long nanos = clock.ticks().nanos();
        return new Moment(boot, nanos, clock.wallAt(nanos), isTrusted);
    }

    /** Where monitors find it over TLS; empty when nowhere, or not within that time. */
    Optional<MonitorLinks.TlsPlace> awaitTls(long seconds) {
        return configuration.tls().isPresent()
                ? links.flatMap(there -> there.awaitTls(seconds))
                : Optional.empty();
    }

    /**
     * One line of JSON for whoever started the agent: its name, and the port and key to connect to
     * over TLS; both are null when the port could not be opened at once.
     */
    String announcement() {
        links.ifPresent(there -> there.awaitLocal(TLS_SECONDS));
        Optional<MonitorLinks.TlsPlace> tls = awaitTls(TLS_SECONDS);
        Map<String, Object> object = new LinkedHashMap<>();
        object.put("agent", configuration.name().value());
        object.put("tlsPort", tls.map(MonitorLinks.TlsPlace::port));
        object.put("tlsKey", tls.map(place -> place.key().toString()));
        return JsonText.object(object);
    }

    /** Every line off, then everything else; takes less than 3 s. May be repeated. */
    @Override
    public void close() {
        loop.close();
        outside.stopping();
        if (isStarted) {
            life.close();
            journal.agentStopped(now(), "agent stopped");
        }
        beacons.ifPresent(Beacons::close);
        links.ifPresent(MonitorLinks::close);
        journal.close();
        hardware.close();
        saves.close();
        state.close();
        outside.end(!isDead);
    }
}
