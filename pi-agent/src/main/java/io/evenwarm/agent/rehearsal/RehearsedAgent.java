package io.evenwarm.agent.rehearsal;

import io.evenwarm.agent.loop.CabinetLoop;
import io.evenwarm.agent.loop.JournalTrouble;
import io.evenwarm.agent.loop.LapseTimer;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plant.SimulatedCabinet;
import io.evenwarm.agent.plant.VirtualClock;
import io.evenwarm.agent.port.CabinetDevices;
import io.evenwarm.agent.port.SnapshotListener;
import io.evenwarm.message.BootId;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Command;
import io.evenwarm.message.Moment;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

/**
 * The agent of a rehearsal: its own loop over the simulated cabinet, as a process that can hang,
 * die and be started again, second by second on a virtual clock.
 *
 * <p>What stands around a real agent is here too, as far as heat depends on it: the lapse timer,
 * and the service manager, which drives the lines of an ended agent off. There is no journal and no
 * monitor; of a full disk only the finding is left, and what could not be noted.
 */
final class RehearsedAgent {

    private static final long SECOND = 1_000_000_000L;

    private final VirtualClock clock;
    private final SimulatedCabinet cabinet;
    private final CabinetDevices devices;
    private final MemoryNotes notes = new MemoryNotes();
    private final Beginning beginning;
    private final Told told = new Told();
    private final JournalTrouble journal = new JournalTrouble(this::journalTrouble, List.of(told));
    private CabinetPlan plan;
    private int boots;
    private BootId boot;
    private CabinetLoop loop;
    private LapseTimer lapse;
    private boolean isUp = true;
    private boolean isHung;
    private boolean isDiskFull;

    /** The last snapshot that a monitor would have. */
    private static final class Told implements SnapshotListener {
        private Optional<CabinetSnapshot> last = Optional.empty();

        @Override
        public void published(CabinetSnapshot snapshot) {
            last = Optional.of(snapshot);
        }
    }

    /**
     * When it all begins, and how its machine's boots are told from others'.
     *
     * @param wall by the wall clock
     * @param machine two agents of one machine have the same
     */
    record Beginning(Instant wall, long machine) {

        /** An hour that means nothing: a rehearsal's wall clock only has to be some time. */
        private static final Instant SOME_TIME = Instant.parse("2026-01-01T00:00:00Z");

        static Beginning ofRehearsal(long seed) {
            return new Beginning(SOME_TIME, seed);
        }
    }

    /** As the other, at an hour that means nothing. */
    RehearsedAgent(Scenario.Cabinet described, CabinetPlan plan, long seed, OutputTrace trace) {
        this(described, plan, seed, trace, Beginning.ofRehearsal(seed));
    }

    /**
     * @param seed of the noise
     * @param trace sees the lines; they outlive the process that drives them
     */
    RehearsedAgent(
            Scenario.Cabinet described,
            CabinetPlan plan,
            long seed,
            OutputTrace trace,
            Beginning beginning) {
        this.plan = plan;
        this.beginning = beginning;
        this.clock = new VirtualClock(beginning.wall());
        this.cabinet = new SimulatedCabinet(described.startingBuild(), plan, seed);
        this.devices =
                new CabinetDevices(
                        cabinet.probes(), trace.watch(cabinet.outputs()), cabinet.inputs());
        this.boot = nextBoot();
        this.loop = newLoop();
        this.lapse = LapseTimer.ofVirtualTime(loop, clock.nanos());
        cabinet.step(clock.nanos());
    }

    private BootId nextBoot() {
        return new BootId(new UUID(++boots, beginning.machine()));
    }

    private CabinetLoop newLoop() {
        return new CabinetLoop(
                plan, devices, notes.stores(), boot, List.of(journal), Runnable::run);
    }

    private Optional<String> journalTrouble() {
        return isDiskFull
                ? Optional.of("the journal can't be written: " + MemoryNotes.NO_SPACE)
                : Optional.empty();
    }

    /**
     * One tick, if it comes, then the second until the next one.
     *
     * @return what was published; empty when the agent hangs or is down
     */
    Optional<CabinetSnapshot> second() {
        Optional<CabinetSnapshot> snapshot = Optional.empty();
        if (isUp && !isHung) {
            loop.tick(new Moment(boot, clock.nanos(), clock.now(), clock.isTrusted()));
            snapshot = told.last;
        }
        if (isUp) {
            lapse.step(clock.nanos());
        }
        clock.advance(SECOND);
        cabinet.step(clock.nanos());
        return snapshot;
    }

    /** The process is gone, and the service manager has driven its lines off. */
    void down() {
        if (isUp) {
            isUp = false;
            loop.close();
        }
    }

    /** A new process. */
    void up() {
        loop.close();
        boot = nextBoot();
        isUp = true;
        loop = newLoop();
        lapse = LapseTimer.ofVirtualTime(loop, clock.nanos());
    }

    /**
     * The machine boots after a power cut.
     *
     * @param offSeconds how long it was off: so far its wall clock is behind
     */
    void boot(double offSeconds) {
        Instant lastAlive = clock.now().minusNanos((long) (offSeconds * SECOND));
        clock.stepWall(-(long) (offSeconds * SECOND), false);
        up();
        loop.machineWasOff(Optional.of(lastAlive));
    }

    /** The network has told the time. */
    void clockSet(double behindSeconds) {
        clock.stepWall((long) (behindSeconds * SECOND), true);
    }

    /** The wall clock jumps, and nobody says so. */
    void stepClock(double seconds) {
        clock.stepWall((long) (seconds * SECOND), clock.isTrusted());
    }

    void setHung(boolean hung) {
        isHung = hung;
    }

    void setDiskFull(boolean full) {
        isDiskFull = full;
        notes.setFull(full);
    }

    /** Another plan counts from the next start on. */
    void setPlan(CabinetPlan other) {
        plan = other;
    }

    CabinetPlan plan() {
        return plan;
    }

    /** What a person at the cabinet says. */
    void say(Command command) {
        if (isUp) {
            loop.submit(command, outcome -> {});
        }
    }

    SimulatedCabinet cabinet() {
        return cabinet;
    }

    void close() {
        loop.close();
    }
}
