package io.evenwarm.agent.testing;

import io.evenwarm.agent.loop.CabinetLoop;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plant.CabinetBuild;
import io.evenwarm.agent.plant.SimulatedCabinet;
import io.evenwarm.agent.plant.VirtualClock;
import io.evenwarm.agent.port.CabinetDevices;
import io.evenwarm.agent.port.SnapshotListener;
import io.evenwarm.message.BootId;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Moment;
import java.time.Instant;
import java.util.List;
import java.util.UUID;

/**
 * One simulated cabinet under the agent's own loop on a virtual clock, a tick a simulated second.
 * One seed, one run. One thread.
 */
public final class VirtualRun {

    private static final long TICK_NANOS = 1_000_000_000L;

    private final VirtualClock clock = new VirtualClock(Instant.parse("2026-03-01T12:00:00Z"));
    private final BootId boot = new BootId(new UUID(0, 1));
    private final MemoryStores stores = new MemoryStores();
    private final OutputTrace trace = new OutputTrace();
    private final SimulatedCabinet cabinet;
    private final CabinetLoop loop;

    public VirtualRun(
            CabinetPlan plan, CabinetBuild build, long seed, List<SnapshotListener> listeners) {
        cabinet = new SimulatedCabinet(build, plan, seed);
        loop =
                new CabinetLoop(
                        plan,
                        new CabinetDevices(
                                cabinet.probes(),
                                trace.around(cabinet.outputs()),
                                cabinet.inputs()),
                        stores.latches(),
                        stores.setPoints(),
                        boot,
                        listeners,
                        Runnable::run);
        cabinet.step(clock.nanos());
    }

    /** One tick, and the second after it. */
    public CabinetSnapshot tick() {
        CabinetSnapshot snapshot =
                loop.tick(new Moment(boot, clock.nanos(), clock.now(), clock.isTrusted()));
        clock.advance(TICK_NANOS);
        cabinet.step(clock.nanos());
        return snapshot;
    }

    /** So many hours of ticks; returns the last. */
    public CabinetSnapshot hours(double hours) {
        CabinetSnapshot last = tick();
        for (long left = Math.round(hours * 3600) - 1; left > 0; left--) {
            last = tick();
        }
        return last;
    }

    public SimulatedCabinet cabinet() {
        return cabinet;
    }

    public CabinetLoop loop() {
        return loop;
    }

    public MemoryStores stores() {
        return stores;
    }

    /** Of all drives since the start. */
    public OutputTrace trace() {
        return trace;
    }

    public VirtualClock clock() {
        return clock;
    }
}
