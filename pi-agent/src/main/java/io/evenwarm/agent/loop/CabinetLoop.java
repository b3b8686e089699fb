package io.evenwarm.agent.loop;

import io.evenwarm.agent.cabinet.CabinetObserver;
import io.evenwarm.agent.cabinet.CabinetState;
import io.evenwarm.agent.control.HeatRequest;
import io.evenwarm.agent.guard.Guard;
import io.evenwarm.agent.guard.GuardVerdict;
import io.evenwarm.agent.guard.HeatGrant;
import io.evenwarm.agent.guard.OutputGate;
import io.evenwarm.agent.guard.Signs;
import io.evenwarm.agent.guard.TickFacts;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.port.CabinetDevices;
import io.evenwarm.agent.port.CabinetInputs;
import io.evenwarm.agent.port.CabinetOutputs;
import io.evenwarm.agent.port.CommandIntake;
import io.evenwarm.agent.port.KeptStores;
import io.evenwarm.agent.port.Latch;
import io.evenwarm.agent.port.LatchStore;
import io.evenwarm.agent.port.Probe;
import io.evenwarm.agent.port.RelayCountStore;
import io.evenwarm.agent.port.SetPointStore;
import io.evenwarm.agent.port.SnapshotListener;
import io.evenwarm.message.BootId;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Command;
import io.evenwarm.message.CommandOutcome;
import io.evenwarm.message.Finding;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.GuardState;
import io.evenwarm.message.Moment;
import io.evenwarm.quantity.Duty;
import io.evenwarm.quantity.Temperature;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.concurrent.Executor;
import java.util.function.Consumer;

/**
 * One cabinet's loop: commands, samples, readings, guard, control, gate, lines, snapshot.
 *
 * <p><b>Threads.</b> {@link #tick} belongs to the control thread. {@link #submit} and {@link
 * #close} may be called from any thread.
 *
 * <p>A new loop drives every line off before it does anything else, and keeps them off until the
 * readings have been good for some seconds. A tick never waits: saving what must outlive a restart
 * is handed to an executor.
 */
public final class CabinetLoop implements CommandIntake, AutoCloseable {

    private static final System.Logger LOG = System.getLogger(CabinetLoop.class.getName());
    private static final Optional<Boolean> YES = Optional.of(true);
    private static final Optional<Boolean> NO = Optional.of(false);
    private static final double NANOS_PER_SECOND = 1e9;

    /** What control is told in the first tick, and at least, of the time since the last one. */
    private static final double FIRST_TICK_SECONDS = 1;

    private static final double SHORTEST_TICK_SECONDS = 1e-3;

    /** The buzzer sounds in every fourth tick, so that it can be borne beside it. */
    private static final int BUZZER_RHYTHM_TICKS = 4;

    /** The count of relay operations is saved so often: a dozen times a day, not with each. */
    private static final long OPERATIONS_A_SAVE = 50;

    private final CabinetPlan plan;
    private final BootId boot;
    private final OutputGate gate;
    private final ProbeIntake intake;
    private final InputIntake inputs;
    private final CabinetObserver observer;
    private final Guard guard;
    private final Learning learning;
    private final Steering steering;
    private final RelayCountStore relayCounts;
    private final StateNotes notes;
    private final CommandQueue commands = new CommandQueue();
    private final CommandDesk desk;
    private final Listeners listeners;

    private long tick;
    private long lastTickNanos;
    private CabinetState state;
    private final PowerCut powerCut = new PowerCut();
    private double wallAheadSeconds;
    private GuardState guardState = GuardState.STARTING;
    private long savedOperations;
    private String internalFault = "";
    private List<Finding> findings = List.of();

    /** Without inputs, and with saving done inline: for virtual time. */
    public CabinetLoop(
            CabinetPlan plan,
            List<Probe> probes,
            CabinetOutputs outputs,
            LatchStore latches,
            SetPointStore setPoints,
            BootId boot,
            List<SnapshotListener> listeners) {
        this(
                plan,
                new CabinetDevices(probes, outputs, CabinetInputs.NONE),
                latches,
                setPoints,
                boot,
                listeners,
                Runnable::run);
    }

    /**
     * Drives all lines off, then reads the latch and the set point that were kept.
     *
     * @param plan the cabinet
     * @param devices its probes, in the plan's order; its lines, which this loop owns from here on
     *     and closes; and what it tells beside them
     * @param latches keeps the latch
     * @param setPoints keeps a commanded set point
     * @param boot the boot that every tick's moment must lie in
     * @param listeners hear of every snapshot, in this order
     * @param saves runs what writes to the disk; one thread, in order
     * @throws IllegalArgumentException when plan and probes do not fit each other, or the plan's
     *     set point does not fit its limits
     */
    public CabinetLoop(
            CabinetPlan plan,
            CabinetDevices devices,
            LatchStore latches,
            SetPointStore setPoints,
            BootId boot,
            List<SnapshotListener> listeners,
            Executor saves) {
        this(plan, devices, new KeptStores(latches, setPoints), boot, listeners, saves);
    }

    /**
     * As the other, with all that is kept.
     *
     * @param kept keeps it
     */
    public CabinetLoop(
            CabinetPlan plan,
            CabinetDevices devices,
            KeptStores kept,
            BootId boot,
            List<SnapshotListener> listeners,
            Executor saves) {
        this.gate = new OutputGate(devices.outputs());
        this.plan = plan;
        this.boot = boot;
        this.intake = new ProbeIntake(plan, devices.probes());
        this.inputs = new InputIntake(plan, devices.inputs());
        this.observer = new CabinetObserver(plan);
        this.guard =
                new Guard(plan, kept.latches().load(plan.name()), kept.learned().load(plan.name()));
        this.learning = new Learning(plan.name(), guard, kept.learned());
        this.notes = new StateNotes(plan.name(), kept.latches(), kept.setPoints(), saves);
        this.state = observer.observe(intake.readings());
        this.desk = new CommandDesk(plan, guard, notes, kept.setPoints().load(plan.name()), state);
        this.relayCounts = kept.relayCounts();
        this.savedOperations = relayCounts.load(plan.name());
        this.steering =
                new Steering(
                        plan,
                        guard,
                        desk.setPoint(),
                        savedOperations,
                        new DutyMemory(plan.name(), kept.heldDuties()));
        this.desk.tuneBy(
                command ->
                        steering.tests()
                                .carryOut(
                                        command, steering.setPoint(), guardState, guard.limits()));
        this.listeners = new Listeners(plan.name(), listeners);
    }

    /** The cabinet's name. */
    public CabinetName cabinet() {
        return plan.name();
    }

    @Override
    public void submit(Command command, Consumer<CommandOutcome> answer) {
        if (!command.cabinet().equals(plan.name())) {
            answer.accept(
                    new CommandOutcome.Refused(
                            "This is cabinet "
                                    + plan.name()
                                    + ", but the command is for "
                                    + command.cabinet()
                                    + "."));
            return;
        }
        commands.submit(command, answer);
    }

    /**
     * One tick. Never blocks. An exception inside it is contained: the lines go off, the next
     * snapshot carries a finding.
     *
     * @param now the tick's moment, later than the last one's and in this loop's boot
     * @return what was published
     */
    public CabinetSnapshot tick(Moment now) {
        if (!now.boot().equals(boot)) {
            throw new IllegalArgumentException(
                    "moment is of boot " + now.boot() + " but this is boot " + boot);
        }
        tick++;
        long nowNanos = now.monotonicNanos();
        double sinceLastSeconds = tick == 1 ? 0 : (nowNanos - lastTickNanos) / NANOS_PER_SECOND;
        lastTickNanos = nowNanos;

        CabinetSnapshot snapshot;
        boolean isDone = false;
        try {
            state = observer.observe(intake.read(nowNanos), guard.trust());
            snapshot = decide(now, sinceLastSeconds);
            isDone = true;
        } catch (RuntimeException e) {
            snapshot = failed(now, e);
            isDone = true;
        } finally {
            if (!isDone) {
                gate.driveOff();
            }
        }
        listeners.publish(snapshot);
        return snapshot;
    }

    private CabinetSnapshot decide(Moment now, double sinceLastSeconds) {
        long nowNanos = now.monotonicNanos();
        desk.see(state, nowNanos);
        notes.settle(nowNanos);
        inputs.read(nowNanos, desk);
        powerCut.see(now);
        desk.work(commands);
        notes.settle(nowNanos);
        double elapsedSeconds =
                tick == 1 ? FIRST_TICK_SECONDS : Math.max(sinceLastSeconds, SHORTEST_TICK_SECONDS);
        steering.moveSetPoint(desk.setPoint(), now, elapsedSeconds);

        GuardVerdict verdict = guard.judge(state, facts(now, sinceLastSeconds), nowNanos);
        internalFault = "";
        desk.noteLatch();
        desk.noteFindings(findings, verdict.findings());
        findings = verdict.findings();

        guardState = verdict.state();
        steering.giveBack(verdict.giveBackSeconds());
        HeatRequest request =
                steering.heat(
                        now,
                        state,
                        verdict.grant().holdsAt(nowNanos),
                        verdict.blindDuty(),
                        findings,
                        isDoorKnownOpen(),
                        elapsedSeconds,
                        gate.isHeaterOn());
        steering.moisten(state, elapsedSeconds);
        gate.apply(
                request.heatWanted(),
                nowNanos,
                verdict.grant(),
                isFanWanted(),
                isBuzzerWanted(),
                nowNanos);
        gate.applyMoisture(steering.isHumidifierWanted(), steering.isVentWanted());
        keepCount();
        learning.saveWhenDue(notes, nowNanos);
        steering.keepDuty(notes, now);
        return snapshot(now, verdict.state(), request.duty());
    }

    /**
     * Lines off, and a snapshot that says so. Asks neither guard nor control: one of them may be
     * what failed. Guard hears of it in the next tick and holds heat back for a while.
     */
    private CabinetSnapshot failed(Moment now, RuntimeException e) {
        gate.apply(false, 0, HeatGrant.NONE, isFanWanted(), isBuzzerWanted(), now.monotonicNanos());
        gate.applyMoisture(false, false);
        internalFault = String.valueOf(e);
        LOG.log(
                System.Logger.Level.ERROR,
                "cabinet " + plan.name() + ": this tick failed, heat is off",
                e);
        List<Finding> longer = new ArrayList<>(findings);
        longer.removeIf(finding -> finding.code().equals(FindingCode.AGENT_FAULT));
        longer.add(Guard.agentFault(internalFault, now.monotonicNanos()));
        findings = List.copyOf(longer);
        return snapshot(
                now,
                guard.latch() instanceof Latch.Tripped ? GuardState.TRIPPED : GuardState.HOLDING,
                Duty.OFF);
    }

    private void keepCount() {
        long operations = steering.relayOperations();
        if (operations - savedOperations >= OPERATIONS_A_SAVE) {
            savedOperations = operations;
            notes.save(relayCounts, operations);
        }
    }

    private TickFacts facts(Moment now, double sinceLastSeconds) {
        return new TickFacts(
                sinceLastSeconds,
                gate.isHeaterOn(),
                gate.faults(),
                notes.unsaved(),
                internalFault,
                new Signs(
                        !plan.hasCutOffRelay() || gate.isCutOffRelayClosed(),
                        !plan.drivesFan() || gate.isFanOn(),
                        inputs.isDoorOpen(),
                        inputs.fanTurnsPerMinute(),
                        desk.plannedWorkUntilNanos().isPresent(),
                        steering.tests().isDriving(),
                        now.wallTrusted(),
                        wallJumpSeconds(now),
                        powerCut.hasBeen(),
                        powerCut.offSeconds()));
    }

    /** How far the wall clock ran ahead of the monotonic one since the last tick. */
    private double wallJumpSeconds(Moment now) {
        Instant wall = now.wall();
        double wallSeconds = wall.getEpochSecond() + wall.getNano() / NANOS_PER_SECOND;
        double ahead = wallSeconds - now.monotonicNanos() / NANOS_PER_SECOND;
        double jump = tick == 1 ? 0 : ahead - wallAheadSeconds;
        wallAheadSeconds = ahead;
        return jump;
    }

    /** The air must move whatever the heater does; only before the first readings all is off. */
    private boolean isFanWanted() {
        return tick > 1;
    }

    private boolean isDoorKnownOpen() {
        return desk.plannedWorkUntilNanos().isPresent() || inputs.isDoorOpen().orElse(false);
    }

    private boolean isBuzzerWanted() {
        return isAnyUrgent() && !desk.isSilenced() && tick % BUZZER_RHYTHM_TICKS == 0;
    }

    /** A clock that is wrong can wait for the person until they look. */
    private boolean isAnyUrgent() {
        for (int i = 0; i < findings.size(); i++) {
            if (!findings.get(i).code().equals(FindingCode.CLOCK_UNTRUSTED)) {
                return true;
            }
        }
        return false;
    }

    private CabinetSnapshot snapshot(Moment now, GuardState guardState, Duty duty) {
        return new CabinetSnapshot(
                plan.name(),
                tick,
                now,
                state.readings(),
                state.isBlind()
                        ? Optional.empty()
                        : Optional.of(new Temperature(state.processCelsius())),
                steering.setPoint(),
                plan.setPoint(),
                guard.limits(),
                duty,
                gate.isHeaterOn(),
                plan.hasCutOffRelay() ? yesNo(gate.isCutOffRelayClosed()) : Optional.empty(),
                plan.drivesFan() ? yesNo(gate.isFanOn()) : Optional.empty(),
                guardState,
                findings,
                desk.isSilenced(),
                inputs.isDoorOpen(),
                boxed(inputs.fanTurnsPerMinute()),
                desk.plannedWorkUntilNanos(),
                internalFault.isEmpty() ? steering.moisture() : Optional.empty(),
                internalFault.isEmpty() ? steering.report() : Optional.empty());
    }

    private static Optional<Double> boxed(OptionalDouble number) {
        return number.isPresent() ? Optional.of(number.getAsDouble()) : Optional.empty();
    }

    private static Optional<Boolean> yesNo(boolean value) {
        return value ? YES : NO;
    }

    /**
     * Tells it, before its first tick, that the machine was off and that nobody had ended the agent
     * before.
     *
     * @param lastAlive when the agent last ran, by a trusted clock; empty when nobody knows
     */
    public void machineWasOff(Optional<Instant> lastAlive) {
        powerCut.note(lastAlive);
    }

    /** How many times a listener threw; such a listener is called again at the next tick. */
    public long listenerFailures() {
        return listeners.failures();
    }

    OutputGate gate() {
        return gate;
    }

    /** Drives every line off for good, refuses what waits. From any thread; may be repeated. */
    @Override
    public void close() {
        gate.close();
        commands.close();
    }
}
