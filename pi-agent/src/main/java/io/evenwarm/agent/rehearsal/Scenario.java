package io.evenwarm.agent.rehearsal;

import io.evenwarm.agent.plan.ControlPlan;
import io.evenwarm.agent.plant.CabinetBuild;
import io.evenwarm.agent.plant.PlantFault;
import io.evenwarm.message.ProbeName;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * A cabinet, a stretch of time, and what goes wrong in it.
 *
 * @param seed of noise, bus errors and the hour of the day at the start
 * @param durationSeconds how long it lasts; above 0 to 400 days
 * @param cabinet what it happens to
 * @param faults what goes wrong, in any order
 * @param everyday what happens beside that and is no fault, such as a short look inside
 * @param weather how the room strays over days
 * @param restartsAtSeconds when the agent is ended and started again, s from the start: an update,
 *     a machine that boots
 */
public record Scenario(
        long seed,
        double durationSeconds,
        Cabinet cabinet,
        List<TimedFault> faults,
        List<Everyday> everyday,
        Weather weather,
        List<Double> restartsAtSeconds) {

    /** What the cabinet is called in findings. */
    public static final String CABINET_NAME = "rehearsed";

    private static final double LONGEST_SECONDS = 400 * 86_400.0;

    public Scenario {
        faults = List.copyOf(faults);
        everyday = List.copyOf(everyday);
        restartsAtSeconds = List.copyOf(restartsAtSeconds);
        if (!(durationSeconds > 0 && durationSeconds <= LONGEST_SECONDS)) {
            throw new IllegalArgumentException(
                    "duration must be above 0 s and at most 400 days but was "
                            + durationSeconds
                            + " s");
        }
        for (TimedFault fault : faults) {
            fault.probe().ifPresent(cabinet::requireProbe);
            fault.otherProbe().ifPresent(cabinet::requireProbe);
        }
    }

    /** A scenario in which nothing else happens. */
    public Scenario(long seed, double durationSeconds, Cabinet cabinet, List<TimedFault> faults) {
        this(seed, durationSeconds, cabinet, faults, List.of());
    }

    /** A scenario in a room that is the same every day, with an agent that nobody restarts. */
    public Scenario(
            long seed,
            double durationSeconds,
            Cabinet cabinet,
            List<TimedFault> faults,
            List<Everyday> everyday) {
        this(seed, durationSeconds, cabinet, faults, everyday, Weather.STEADY, List.of());
    }

    /** The same scenario with another seed. */
    public Scenario withSeed(long other) {
        return new Scenario(
                other, durationSeconds, cabinet, faults, everyday, weather, restartsAtSeconds);
    }

    /**
     * The cabinet of a scenario, and the limits that its agent keeps.
     *
     * @param build what it is made of and where it stands; its start temperature is not looked at
     * @param setPointCelsius set point, °C
     * @param cutOffCelsius the guard's hard cut-off, °C; above the set point
     * @param ceilingCelsius what the eggs must never pass, °C; above the cut-off
     * @param hasCutOffRelay whether a relay of its own stands in series with the heater's
     * @param hasFanTachometer whether the fan's turns are counted
     * @param hasDoorSwitch whether a contact tells an open door
     * @param probePositions where its DS18B20 sit, as in the agent's configuration; each is named
     *     by its position. {@code guard} is the guard's own probe, at the top; {@code room} hangs
     *     outside
     * @param start how it begins
     * @param control how it is controlled
     */
    public record Cabinet(
            CabinetBuild build,
            double setPointCelsius,
            double cutOffCelsius,
            double ceilingCelsius,
            boolean hasCutOffRelay,
            boolean hasFanTachometer,
            boolean hasDoorSwitch,
            List<String> probePositions,
            Start start,
            ControlPlan control) {

        /** A cabinet that tells nothing beside what its probes read. */
        public Cabinet(
                CabinetBuild build,
                double setPointCelsius,
                double cutOffCelsius,
                double ceilingCelsius,
                boolean hasCutOffRelay,
                List<String> probePositions,
                Start start) {
            this(
                    build,
                    setPointCelsius,
                    cutOffCelsius,
                    ceilingCelsius,
                    hasCutOffRelay,
                    false,
                    false,
                    probePositions,
                    start);
        }

        /** A cabinet that is controlled by the defaults. */
        public Cabinet(
                CabinetBuild build,
                double setPointCelsius,
                double cutOffCelsius,
                double ceilingCelsius,
                boolean hasCutOffRelay,
                boolean hasFanTachometer,
                boolean hasDoorSwitch,
                List<String> probePositions,
                Start start) {
            this(
                    build,
                    setPointCelsius,
                    cutOffCelsius,
                    ceilingCelsius,
                    hasCutOffRelay,
                    hasFanTachometer,
                    hasDoorSwitch,
                    probePositions,
                    start,
                    ControlPlan.defaults());
        }

        /** The same, controlled in another way. */
        public Cabinet withControl(ControlPlan other) {
            return new Cabinet(
                    build,
                    setPointCelsius,
                    cutOffCelsius,
                    ceilingCelsius,
                    hasCutOffRelay,
                    hasFanTachometer,
                    hasDoorSwitch,
                    probePositions,
                    start,
                    other);
        }

        public Cabinet {
            probePositions = List.copyOf(probePositions);
            if (!(setPointCelsius < cutOffCelsius && cutOffCelsius < ceilingCelsius)) {
                throw new IllegalArgumentException(
                        "set point, cut-off and ceiling must rise in this order but were "
                                + setPointCelsius
                                + ", "
                                + cutOffCelsius
                                + ", "
                                + ceilingCelsius
                                + " °C");
            }
            if (probePositions.isEmpty() || probePositions.size() > 32) {
                throw new IllegalArgumentException(
                        "a cabinet must have 1 to 32 probes but has " + probePositions.size());
            }
        }

        /** What it is made of, as the scenario begins. */
        CabinetBuild startingBuild() {
            return build.withStart(
                    start == Start.SETTLED ? setPointCelsius : build.ambientCelsius());
        }

        /** The same with other constants. */
        Cabinet withBuild(CabinetBuild other) {
            return new Cabinet(
                    other,
                    setPointCelsius,
                    cutOffCelsius,
                    ceilingCelsius,
                    hasCutOffRelay,
                    hasFanTachometer,
                    hasDoorSwitch,
                    probePositions,
                    start,
                    control);
        }

        /** The same with other probes. */
        Cabinet withProbes(List<String> others) {
            return new Cabinet(
                    build,
                    setPointCelsius,
                    cutOffCelsius,
                    ceilingCelsius,
                    hasCutOffRelay,
                    hasFanTachometer,
                    hasDoorSwitch,
                    others,
                    start,
                    control);
        }

        private void requireProbe(ProbeName probe) {
            if (!probeNames().contains(probe.value())) {
                throw new IllegalArgumentException(
                        "there is no probe "
                                + probe
                                + "; the cabinet has "
                                + String.join(", ", probeNames()));
            }
        }

        /** The probes' names: their positions, a second one of the same with a 2 behind it. */
        public List<String> probeNames() {
            return ScenarioPlan.probeNames(probePositions);
        }
    }

    /** How a scenario begins. */
    public enum Start {
        /** All of the cabinet at the room's mean, heat just switched on. */
        COLD,
        /** At the set point for hours. */
        SETTLED
    }

    /**
     * One thing that goes wrong.
     *
     * @param atSeconds when, s from the scenario's start; 0 or more
     * @param forSeconds for how long, s, above 0; empty: until the end
     * @param what what happens
     */
    public record TimedFault(double atSeconds, OptionalDouble forSeconds, Mishap what) {

        /** Something wrong with the cabinet. */
        public TimedFault(double atSeconds, OptionalDouble forSeconds, PlantFault fault) {
            this(atSeconds, forSeconds, new Mishap.InCabinet(fault));
        }

        public TimedFault {
            if (!(atSeconds >= 0 && atSeconds <= LONGEST_SECONDS)) {
                throw new IllegalArgumentException(
                        "a fault must come at 0 s or later but was at " + atSeconds + " s");
            }
            if (forSeconds.isPresent() && !(forSeconds.getAsDouble() > 0)) {
                throw new IllegalArgumentException(
                        "a fault must last longer than 0 s but lasts "
                                + forSeconds.getAsDouble()
                                + " s");
            }
        }

        /** Which kind it is of. */
        public FaultKind kind() {
            return FaultKind.of(what);
        }

        /** The probe that it hits, where it hits one. */
        public Optional<ProbeName> probe() {
            if (!(what instanceof Mishap.InCabinet in)) {
                return Optional.empty();
            }
            if (in.fault() instanceof PlantFault.ProbesSwapped swapped) {
                return Optional.of(swapped.probe());
            }
            return in.fault() instanceof PlantFault.ProbeFault of
                    ? Optional.of(of.probe())
                    : Optional.empty();
        }

        /** The second probe that it hits, where it hits two. */
        Optional<ProbeName> otherProbe() {
            return what instanceof Mishap.InCabinet in
                            && in.fault() instanceof PlantFault.ProbesSwapped swapped
                    ? Optional.of(swapped.with())
                    : Optional.empty();
        }

        /** Kind and how bad, for example {@code fan-slow 0.42} or {@code probe-frozen top}. */
        String words() {
            return kind().words(this);
        }

        /** When it ends, s from the start; infinity when it does not. */
        public double untilSeconds() {
            return forSeconds.isPresent()
                    ? atSeconds + forSeconds.getAsDouble()
                    : Double.POSITIVE_INFINITY;
        }
    }
}
