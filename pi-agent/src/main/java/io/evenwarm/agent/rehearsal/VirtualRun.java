package io.evenwarm.agent.rehearsal;

import io.evenwarm.agent.loop.CabinetLoop;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plant.CabinetBuild;
import io.evenwarm.agent.plant.SimulatedCabinet;
import io.evenwarm.agent.plant.VirtualClock;
import io.evenwarm.agent.port.CabinetDevices;
import io.evenwarm.agent.port.CabinetOutputs;
import io.evenwarm.agent.port.SnapshotListener;
import io.evenwarm.message.BootId;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Moment;
import java.time.Instant;
import java.util.List;
import java.util.UUID;
import java.util.function.UnaryOperator;

/**
 * The agent's own loop over a simulated cabinet on a virtual clock, second by second in the
 * caller's thread: check, guard, control and gate are the ones that run on a real cabinet.
 *
 * <p>Not thread-safe. One seed gives one run, bit for bit.
 */
public final class VirtualRun {

    /** An hour that means nothing: a rehearsal's wall clock only has to be some time. */
    private static final Instant WALL = Instant.parse("2026-01-01T00:00:00Z");

    private static final long SECOND = 1_000_000_000L;

    private final VirtualClock clock = new VirtualClock(WALL);
    private final BootId boot;
    private final SimulatedCabinet cabinet;
    private final CabinetLoop loop;

    /**
     * @param build the cabinet
     * @param plan as the agent would have it
     * @param seed of all that is random
     * @param listeners hear of every snapshot
     */
    public VirtualRun(
            CabinetBuild build, CabinetPlan plan, long seed, List<SnapshotListener> listeners) {
        this(build, plan, seed, listeners, outputs -> outputs);
    }

    VirtualRun(
            CabinetBuild build,
            CabinetPlan plan,
            long seed,
            List<SnapshotListener> listeners,
            UnaryOperator<CabinetOutputs> watched) {
        this.boot = new BootId(new UUID(0, seed));
        this.cabinet = new SimulatedCabinet(build, plan, seed);
        this.loop =
                new CabinetLoop(
                        plan,
                        new CabinetDevices(
                                cabinet.probes(),
                                watched.apply(cabinet.outputs()),
                                cabinet.inputs()),
                        new MemoryNotes().stores(),
                        boot,
                        listeners,
                        Runnable::run);
        cabinet.step(clock.nanos());
    }

    /** One tick of the agent, then the second until the next one. */
    public CabinetSnapshot second() {
        CabinetSnapshot snapshot =
                loop.tick(new Moment(boot, clock.nanos(), clock.now(), clock.isTrusted()));
        clock.advance(SECOND);
        cabinet.step(clock.nanos());
        return snapshot;
    }

    public SimulatedCabinet cabinet() {
        return cabinet;
    }

    public CabinetLoop loop() {
        return loop;
    }

    public VirtualClock clock() {
        return clock;
    }
}
