package io.evenwarm.agent.plant;

import static io.evenwarm.agent.plant.ThermalConstants.BOTTOM;
import static io.evenwarm.agent.plant.ThermalConstants.MIDDLE;
import static io.evenwarm.agent.plant.ThermalConstants.TOP;

import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plan.ProbePlan;
import io.evenwarm.agent.port.CabinetInputs;
import io.evenwarm.agent.port.CabinetOutputs;
import io.evenwarm.agent.port.Probe;
import io.evenwarm.message.ProbeName;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * A cabinet that is not there: its physics, its probes with their bus, its output lines, and the
 * faults that are put into it.
 *
 * <p>One thread calls {@link #step(long)} and {@link #truth()}. Probes may be read, outputs driven
 * and faults injected or cleared by any thread. Driven and stepped by one thread, one seed gives
 * one run, bit for bit.
 *
 * <p>The loop of a run on the virtual clock:
 *
 * <pre>{@code
 * cabinet.step(clock.nanos());   // the first call only sets the start
 * while (...) {
 *     loop.tick();               // reads probes, drives outputs
 *     clock.advance(1_000_000_000L);
 *     cabinet.step(clock.nanos());
 * }
 * }</pre>
 */
public final class SimulatedCabinet {

    private static final long STEP_NANOS = (long) (CabinetPhysics.STEP_SECONDS * 1e9);
    private static final double NANOS_PER_SECOND = 1e9;

    /** A small axial fan at its rated voltage. */
    private static final double FULL_FAN_TURNS_PER_MINUTE = 1500;

    /** Two pulses a turn, counted for 2 s. */
    private static final double TACHOMETER_STEP_PER_MINUTE = 15;

    private final CabinetBuild build;
    private final boolean hasCutOffRelay;
    private final boolean drivesFan;
    private final boolean hasFanTachometer;
    private final boolean hasDoorSwitch;
    private final CabinetPhysics physics;
    private final Room room;
    private final List<SimulatedProbe> probes;
    private final SimulatedProbe[] elements;
    private final SimulatedBus bus;
    private final boolean hasHygrometer;

    private final SimulatedOutput heater;
    private final SimulatedOutput cutOffRelay;
    private final SimulatedOutput fan;
    private final SimulatedOutput buzzer;

    private volatile List<PlantFault> faults = List.of();
    private List<PlantFault> faultsTaken = List.of();
    private Conditions conditions = Conditions.SOUND;

    private boolean started;
    private long startNanos;
    private long steppedNanos;
    private double heaterWatts;
    private double flowShare;
    private volatile double fanTurnsPerMinute;
    private volatile boolean isDoorShut = true;
    private double ambientCelsius;
    private double weatherKelvin;

    /**
     * @param build what it is made of and where it stands
     * @param plan its probes and which lines it has
     * @param seed of noise, bus errors and the hour of the day at the start
     */
    public SimulatedCabinet(CabinetBuild build, CabinetPlan plan, long seed) {
        this.build = build;
        this.hasCutOffRelay = plan.hasCutOffRelay();
        this.drivesFan = plan.drivesFan();
        this.hasFanTachometer = plan.hasFanTachometer();
        this.hasDoorSwitch = plan.hasDoorSwitch();
        this.physics = new CabinetPhysics(build);
        SeededNoise noise = new SeededNoise(seed);
        this.room = new Room(build, noise.uniform());
        this.ambientCelsius = room.celsius(0);
        List<SimulatedProbe> made = new ArrayList<>();
        for (ProbePlan probe : plan.probes()) {
            made.add(new SimulatedProbe(probe, build, noise));
        }
        this.probes = List.copyOf(made);
        this.elements = made.toArray(SimulatedProbe[]::new);
        this.bus = new SimulatedBus(probes, noise);
        this.hasHygrometer =
                plan.probes().stream()
                        .anyMatch(probe -> probe.sensor() == ProbePlan.Sensor.HYGROMETER);
        String of = " of cabinet " + plan.name();
        this.heater = new SimulatedOutput("heater" + of);
        this.cutOffRelay = new SimulatedOutput("cut-off relay" + of);
        this.fan = new SimulatedOutput("fan" + of);
        this.buzzer = new SimulatedOutput("buzzer" + of);
    }

    /** Its probes, in the plan's order. */
    public List<Probe> probes() {
        return List.copyOf(probes);
    }

    /** Its lines: those that the plan says it has, and a buzzer. */
    public CabinetOutputs outputs() {
        return new CabinetOutputs(
                heater,
                hasCutOffRelay ? Optional.of(cutOffRelay) : Optional.empty(),
                drivesFan ? Optional.of(fan) : Optional.empty(),
                Optional.of(buzzer));
    }

    /** What it tells beside its probes: the fan's turns and the door, where the plan has them. */
    public CabinetInputs inputs() {
        return new CabinetInputs(
                hasDoorSwitch ? Optional.of(() -> Optional.of(isDoorShut)) : Optional.empty(),
                hasFanTachometer
                        ? Optional.of(() -> OptionalDouble.of(fanTurnsPerMinute))
                        : Optional.empty(),
                Optional.empty(),
                Optional.empty());
    }

    /**
     * Brings physics and bus up to a moment, in whole steps of 1 s since the first call, which only
     * sets the start. Output levels count from the next step on.
     *
     * @param nowNanos monotonic time; a time before an earlier call's does nothing
     */
    public void step(long nowNanos) {
        if (!started) {
            started = true;
            startNanos = nowNanos;
            steppedNanos = nowNanos;
            bus.powerOn(nowNanos);
        }
        while (nowNanos - steppedNanos >= STEP_NANOS) {
            stepOnce();
        }
    }

    private void stepOnce() {
        long from = steppedNanos;
        long to = from + STEP_NANOS;
        List<PlantFault> inForce = faults;
        if (inForce != faultsTaken) {
            takeFaults(inForce, from);
        }
        Conditions now = conditions;
        boolean powered = now.mainsOn();
        boolean heaterRelay = now.heaterWelded() || heater.isEnergised();
        boolean cutOff = !hasCutOffRelay || now.cutOffStuck() || cutOffRelay.isEnergised();
        heaterWatts =
                powered && heaterRelay && cutOff ? now.heaterShare() * build.heaterWatts() : 0;
        boolean fanOn = powered && build.fanWatts() > 0 && (!drivesFan || fan.isEnergised());
        flowShare = fanOn ? now.flowShare() : 0;
        // Air moves in proportion to the turns (the fan laws).
        fanTurnsPerMinute =
                Math.rint(flowShare * FULL_FAN_TURNS_PER_MINUTE / TACHOMETER_STEP_PER_MINUTE)
                        * TACHOMETER_STEP_PER_MINUTE;
        isDoorShut = !now.doorOpen();
        double ambientBefore = ambientCelsius;
        double middleOfStep =
                (from - startNanos) / NANOS_PER_SECOND + CabinetPhysics.STEP_SECONDS / 2;
        ambientCelsius = room.celsius(middleOfStep) + weatherKelvin + now.ambientStepKelvin();
        double topBefore = physics.airCelsius(TOP);
        double middleBefore = physics.airCelsius(MIDDLE);
        double bottomBefore = physics.airCelsius(BOTTOM);
        double tubBefore = physics.tubCelsius(MIDDLE);
        physics.step(
                heaterWatts,
                flowShare * build.fanWatts(),
                flowShare,
                now.doorOpen(),
                ambientCelsius);
        double lag =
                ThermalConstants.PROBE_LAG_STILL_SECONDS
                        + flowShare
                                * (ThermalConstants.PROBE_LAG_FORCED_SECONDS
                                        - ThermalConstants.PROBE_LAG_STILL_SECONDS);
        for (SimulatedProbe probe : elements) {
            if (probe.hasFallenOut()) {
                feel(
                        probe,
                        ambientBefore,
                        ambientCelsius,
                        ThermalConstants.PROBE_LAG_STILL_SECONDS);
                continue;
            }
            switch (probe.place()) {
                case TOP -> feel(probe, topBefore, physics.airCelsius(TOP), lag);
                case MIDDLE, OTHER -> feel(probe, middleBefore, physics.airCelsius(MIDDLE), lag);
                case BOTTOM -> feel(probe, bottomBefore, physics.airCelsius(BOTTOM), lag);
                case TUB ->
                        feel(
                                probe,
                                tubBefore,
                                physics.tubCelsius(MIDDLE),
                                ThermalConstants.PROBE_LAG_STILL_SECONDS);
                case AMBIENT ->
                        feel(
                                probe,
                                ambientBefore,
                                ambientCelsius,
                                ThermalConstants.PROBE_LAG_STILL_SECONDS);
            }
        }
        bus.step(from, to, hasHygrometer ? humidityPercent() : 0);
        steppedNanos = to;
    }

    private static void feel(SimulatedProbe probe, double before, double after, double lag) {
        probe.feel(before, after, lag, CabinetPhysics.STEP_SECONDS);
    }

    private double humidityPercent() {
        return Humidity.overDampMedium(physics.tubCelsius(MIDDLE), physics.airCelsius(MIDDLE));
    }

    private void takeFaults(List<PlantFault> inForce, long nowNanos) {
        faultsTaken = inForce;
        conditions = Conditions.of(inForce);
        bus.take(inForce, nowNanos);
        for (SimulatedProbe probe : elements) {
            probe.take(inForce, nowNanos);
            probe.hangAt(probe.plan().place().kind());
        }
        for (PlantFault fault : inForce) {
            if (fault instanceof PlantFault.ProbesSwapped swapped) {
                SimulatedProbe one = named(swapped.probe());
                SimulatedProbe other = named(swapped.with());
                one.hangAt(other.plan().place().kind());
                other.hangAt(one.plan().place().kind());
            }
        }
    }

    /**
     * Takes some tubs out and puts others in that are as cold as the room. By the thread that
     * steps.
     *
     * @param share of the tubs, 0 to 1
     */
    public void exchangeTubs(double share) {
        physics.exchangeTubs(share, ambientCelsius);
    }

    /**
     * Lets the room be warmer than its mean and its daily swing make it, from the next step on. By
     * the thread that steps.
     *
     * @param kelvin by how much; below 0 it is colder
     */
    public void setWeather(double kelvin) {
        weatherKelvin = kelvin;
    }

    /** What its temperatures really are, as of the last step. */
    public PlantTruth truth() {
        return new PlantTruth(
                physics.airCelsius(TOP),
                physics.airCelsius(MIDDLE),
                physics.airCelsius(BOTTOM),
                physics.tubCelsius(TOP),
                physics.tubCelsius(MIDDLE),
                physics.tubCelsius(BOTTOM),
                heaterWatts,
                physics.heaterCelsius(),
                flowShare,
                ambientCelsius);
    }

    /**
     * Puts a fault into it, in place of one of the same kind; it counts from the next step on.
     *
     * @throws IllegalArgumentException when it is about a probe that this cabinet does not have
     */
    public synchronized void inject(PlantFault fault) {
        if (fault instanceof PlantFault.ProbeFault of) {
            named(of.probe());
        } else if (fault instanceof PlantFault.ProbesSwapped swapped) {
            named(swapped.probe());
            named(swapped.with());
        }
        List<PlantFault> next = without(fault);
        next.add(fault);
        faults = List.copyOf(next);
    }

    /** Takes a fault of this kind (and probe) out again, where there is one. */
    public synchronized void clear(PlantFault fault) {
        faults = List.copyOf(without(fault));
    }

    private SimulatedProbe named(ProbeName name) {
        for (SimulatedProbe probe : elements) {
            if (probe.plan().name().equals(name)) {
                return probe;
            }
        }
        throw new IllegalArgumentException("there is no probe " + name);
    }

    private List<PlantFault> without(PlantFault fault) {
        List<PlantFault> kept = new ArrayList<>(faults);
        kept.removeIf(fault::isSameKindAs);
        return kept;
    }
}
