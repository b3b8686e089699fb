package io.evenwarm.agent.app;

import io.evenwarm.agent.loop.AgentLoop;
import io.evenwarm.agent.loop.CabinetLoop;
import io.evenwarm.agent.loop.LoopClock;
import io.evenwarm.agent.loop.SaveThread;
import io.evenwarm.agent.plant.ScaledClock;
import io.evenwarm.agent.port.LatchStore;
import io.evenwarm.agent.port.SetPointStore;
import io.evenwarm.agent.port.SnapshotListener;
import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.WallClock;
import io.evenwarm.codec.JsonText;
import io.evenwarm.message.AgentName;
import io.evenwarm.message.BootId;
import java.lang.System.Logger;
import java.lang.System.Logger.Level;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
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

    private final AgentName name;
    private final StateFolder state;
    private final Hardware hardware;
    private final SaveThread saves = new SaveThread();
    private final AgentLoop loop;
    private final LoopClock clock;

    private RunningAgent(
            AgentConfiguration configuration,
            MonotonicClock monotonic,
            WallClock wall,
            StateFolder state) {
        this.name = configuration.name();
        this.state = state;
        this.clock = clock(configuration, monotonic, wall);
        this.hardware = Hardware.of(configuration, monotonic);
        hardware.driveAllOff();
        BootId boot = new BootId(UUID.randomUUID());
        this.loop =
                new AgentLoop(
                        cabinetLoops(boot, List.of()),
                        boot,
                        clock,
                        List.of(hardware::stepSimulated));
    }

    /**
     * Starts an agent.
     *
     * @param whenDead called when control has ended by a fault; all lines are off by then
     * @throws StateFolder.TakenException when another agent runs on the state folder; no line was
     *     touched then, since the lines are that agent's
     */
    static RunningAgent start(
            AgentConfiguration configuration,
            MonotonicClock monotonic,
            WallClock wall,
            Consumer<Throwable> whenDead)
            throws StateFolder.TakenException {
        StateFolder state = StateFolder.open(configuration.stateFolder());
        RunningAgent agent = new RunningAgent(configuration, monotonic, wall, state);
        agent.hardware.startReaders();
        agent.loop.start(whenDead);
        return agent;
    }

    private static LoopClock clock(
            AgentConfiguration configuration, MonotonicClock monotonic, WallClock wall) {
        double speed = configuration.simulation().speed();
        if (speed == 1) {
            return LoopClock.real(monotonic, wall);
        }
        ScaledClock scaled = new ScaledClock(monotonic, wall, speed);
        return new LoopClock(scaled, scaled, monotonic, speed);
    }

    /** A cabinet that can't be made stays off; it keeps no other from its heat. */
    private List<CabinetLoop> cabinetLoops(BootId boot, List<SnapshotListener> listeners) {
        LatchStore latches = state.latches();
        SetPointStore setPoints = state.setPoints();
        List<CabinetLoop> loops = new ArrayList<>();
        for (Hardware.Cabinet cabinet : hardware.cabinets()) {
            try {
                loops.add(
                        new CabinetLoop(
                                cabinet.settings().plan(),
                                cabinet.probes(),
                                cabinet.outputs(),
                                latches,
                                setPoints,
                                boot,
                                listeners,
                                saves));
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

    /** One line of JSON for whoever started the agent. */
    String announcement() {
        Map<String, Object> object = new LinkedHashMap<>();
        object.put("agent", name.value());
        return JsonText.object(object);
    }

    /** Every line off, then everything else; takes less than 3 s. May be repeated. */
    @Override
    public void close() {
        loop.close();
        hardware.close();
        saves.close();
        state.close();
    }
}
