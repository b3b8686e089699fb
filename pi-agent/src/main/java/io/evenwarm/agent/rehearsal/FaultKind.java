package io.evenwarm.agent.rehearsal;

import io.evenwarm.agent.plant.PlantFault;
import io.evenwarm.message.ProbeName;
import java.util.Arrays;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;

/** The kinds of fault that a scenario may hold: their word, and what else each of them needs. */
public enum FaultKind {
    HEATER_STUCK_ON("heater-stuck-on", Probes.NONE, ""),
    HEATER_OPEN("heater-open", Probes.NONE, ""),
    HEATER_WEAK("heater-weak", Probes.NONE, "power_share"),
    FAN_STOPPED("fan-stopped", Probes.NONE, ""),
    FAN_SLOW("fan-slow", Probes.NONE, "flow_share"),
    PROBE_FROZEN("probe-frozen", Probes.ONE, ""),
    PROBE_DRIFT("probe-drift", Probes.ONE, "kelvin_per_hour"),
    PROBE_DROPOUT("probe-dropout", Probes.ONE, ""),
    PROBE_FELL_OUT("probe-fell-out", Probes.ONE, ""),
    PROBES_SWAPPED("probes-swapped", Probes.TWO, ""),
    PROBE_NOISE("probe-noise", Probes.ONE, "kelvin"),
    BUS_ERRORS("bus-errors", Probes.NONE, "share"),
    BUS_HANG("bus-hang", Probes.NONE, ""),
    CUT_OFF_RELAY_STUCK("cut-off-relay-stuck", Probes.NONE, ""),
    DOOR_OPEN("door-open", Probes.NONE, ""),
    MAINS_CUT("mains-cut", Probes.NONE, ""),
    AMBIENT_STEP("ambient-step", Probes.NONE, "kelvin"),
    CLOCK_STEP("clock-step", Probes.NONE, "seconds"),
    CONTROL_HANG("control-hang", Probes.NONE, ""),
    AGENT_CRASH("agent-crash", Probes.NONE, "restart_seconds"),
    RELAY_CHATTER("relay-chatter", Probes.NONE, "window_seconds"),
    DISK_FULL("disk-full", Probes.NONE, ""),
    LINK_LOST("link-lost", Probes.NONE, "");

    /** How long the service manager waits before it starts a crashed agent again. */
    public static final double USUAL_RESTART_SECONDS = 5;

    /** A window that suits a solid-state relay and wears a mechanical one out. */
    public static final double USUAL_CHATTER_SECONDS = 6;

    private static final Map<Class<?>, FaultKind> OF =
            Map.ofEntries(
                    Map.entry(PlantFault.HeaterRelayWelded.class, HEATER_STUCK_ON),
                    Map.entry(PlantFault.HeaterOpen.class, HEATER_OPEN),
                    Map.entry(PlantFault.HeaterWeak.class, HEATER_WEAK),
                    Map.entry(PlantFault.FanStopped.class, FAN_STOPPED),
                    Map.entry(PlantFault.FanSlow.class, FAN_SLOW),
                    Map.entry(PlantFault.ProbeFrozen.class, PROBE_FROZEN),
                    Map.entry(PlantFault.ProbeDrift.class, PROBE_DRIFT),
                    Map.entry(PlantFault.ProbeDropout.class, PROBE_DROPOUT),
                    Map.entry(PlantFault.ProbeFellOut.class, PROBE_FELL_OUT),
                    Map.entry(PlantFault.ProbesSwapped.class, PROBES_SWAPPED),
                    Map.entry(PlantFault.ProbeNoise.class, PROBE_NOISE),
                    Map.entry(PlantFault.BusErrors.class, BUS_ERRORS),
                    Map.entry(PlantFault.BusHang.class, BUS_HANG),
                    Map.entry(PlantFault.CutOffRelayStuck.class, CUT_OFF_RELAY_STUCK),
                    Map.entry(PlantFault.DoorOpen.class, DOOR_OPEN),
                    Map.entry(PlantFault.MainsCut.class, MAINS_CUT),
                    Map.entry(PlantFault.AmbientStep.class, AMBIENT_STEP),
                    Map.entry(Mishap.MainsCut.class, MAINS_CUT),
                    Map.entry(Mishap.ClockStep.class, CLOCK_STEP),
                    Map.entry(Mishap.ControlHang.class, CONTROL_HANG),
                    Map.entry(Mishap.AgentCrash.class, AGENT_CRASH),
                    Map.entry(Mishap.RelayChatter.class, RELAY_CHATTER),
                    Map.entry(Mishap.DiskFull.class, DISK_FULL),
                    Map.entry(Mishap.LinkLost.class, LINK_LOST));

    private enum Probes {
        NONE,
        ONE,
        TWO
    }

    private final String word;
    private final Probes probes;
    private final String numberKey;

    FaultKind(String word, Probes probes, String numberKey) {
        this.word = word;
        this.probes = probes;
        this.numberKey = numberKey;
    }

    /** As it stands in a scenario. */
    public String word() {
        return word;
    }

    /** The kind that a scenario's word means. */
    public static Optional<FaultKind> of(String word) {
        return Arrays.stream(values()).filter(kind -> kind.word.equals(word)).findFirst();
    }

    /** The kind that something is of. */
    static FaultKind of(Mishap what) {
        Class<?> type =
                what instanceof Mishap.InCabinet in ? in.fault().getClass() : what.getClass();
        FaultKind kind = OF.get(type);
        if (kind == null) {
            throw new AssertionError("no kind of fault is made of " + type);
        }
        return kind;
    }

    /** Itself, and how bad it is. */
    String words(Scenario.TimedFault fault) {
        StringBuilder words = new StringBuilder(word);
        if (fault.what() instanceof Mishap.InCabinet in
                && in.fault() instanceof PlantFault.ProbesSwapped swapped) {
            words.append(' ').append(swapped.probe()).append(" and ").append(swapped.with());
        } else {
            fault.probe().ifPresent(probe -> words.append(' ').append(probe));
        }
        OptionalDouble number = number(fault.what());
        if (number.isPresent()) {
            words.append(String.format(Locale.ROOT, " %.3g", number.getAsDouble()));
        }
        if (fault.what() instanceof Mishap.MainsCut cut && cut.hasBattery()) {
            words.append(" with battery");
        }
        if (fault.forSeconds().isPresent()) {
            words.append(" for ").append(Times.words(fault.forSeconds()));
        }
        return words.toString();
    }

    /** How bad it is, for a kind that has a number. */
    static OptionalDouble number(Mishap what) {
        if (what instanceof Mishap.InCabinet in) {
            return number(in.fault());
        }
        if (what instanceof Mishap.ClockStep step) {
            return OptionalDouble.of(step.seconds());
        }
        if (what instanceof Mishap.AgentCrash crash) {
            return OptionalDouble.of(crash.restartSeconds());
        }
        return what instanceof Mishap.RelayChatter chatter
                ? OptionalDouble.of(chatter.windowSeconds())
                : OptionalDouble.empty();
    }

    private static OptionalDouble number(PlantFault fault) {
        if (fault instanceof PlantFault.HeaterWeak weak) {
            return OptionalDouble.of(weak.powerShare());
        }
        if (fault instanceof PlantFault.FanSlow slow) {
            return OptionalDouble.of(slow.flowShare());
        }
        if (fault instanceof PlantFault.ProbeDrift drift) {
            return OptionalDouble.of(drift.kelvinPerHour());
        }
        if (fault instanceof PlantFault.ProbeNoise more) {
            return OptionalDouble.of(more.kelvin());
        }
        if (fault instanceof PlantFault.BusErrors errors) {
            return OptionalDouble.of(errors.share());
        }
        return fault instanceof PlantFault.AmbientStep step
                ? OptionalDouble.of(step.kelvin())
                : OptionalDouble.empty();
    }

    /** Whether it hits one probe, or two, of which this one must be named. */
    public boolean needsProbe() {
        return probes != Probes.NONE;
    }

    /** Whether it hits two probes, so that the other must be named too. */
    public boolean needsTwoProbes() {
        return probes == Probes.TWO;
    }

    /** The key of the number that it has, where it has one. */
    public Optional<String> numberKey() {
        return numberKey.isEmpty() ? Optional.empty() : Optional.of(numberKey);
    }

    /** What its number is when it is not said; empty when it must be said. */
    public OptionalDouble usualNumber() {
        return switch (this) {
            case AGENT_CRASH -> OptionalDouble.of(USUAL_RESTART_SECONDS);
            case RELAY_CHATTER -> OptionalDouble.of(USUAL_CHATTER_SECONDS);
            default -> OptionalDouble.empty();
        };
    }

    /** The key of its yes or no, where it has one; no when it is not said. */
    public Optional<String> flagKey() {
        return this == MAINS_CUT ? Optional.of("battery") : Optional.empty();
    }

    /**
     * The fault itself.
     *
     * @throws IllegalArgumentException when a probe is missing or the number is out of range; the
     *     message says what is allowed
     */
    public Mishap make(FaultKeys keys) {
        return switch (this) {
            case MAINS_CUT -> new Mishap.MainsCut(keys.flag());
            case CLOCK_STEP -> new Mishap.ClockStep(keys.number());
            case CONTROL_HANG -> new Mishap.ControlHang();
            case AGENT_CRASH -> new Mishap.AgentCrash(keys.number());
            case RELAY_CHATTER -> new Mishap.RelayChatter(keys.number());
            case DISK_FULL -> new Mishap.DiskFull();
            case LINK_LOST -> new Mishap.LinkLost();
            default -> new Mishap.InCabinet(inCabinet(keys));
        };
    }

    private PlantFault inCabinet(FaultKeys keys) {
        double number = keys.number();
        return switch (this) {
            case HEATER_STUCK_ON -> new PlantFault.HeaterRelayWelded();
            case HEATER_OPEN -> new PlantFault.HeaterOpen();
            case HEATER_WEAK -> new PlantFault.HeaterWeak(number);
            case FAN_STOPPED -> new PlantFault.FanStopped();
            case FAN_SLOW -> new PlantFault.FanSlow(number);
            case PROBE_FROZEN -> new PlantFault.ProbeFrozen(named(keys.probe()));
            case PROBE_DRIFT -> new PlantFault.ProbeDrift(named(keys.probe()), number);
            case PROBE_DROPOUT -> new PlantFault.ProbeDropout(named(keys.probe()));
            case PROBE_FELL_OUT -> new PlantFault.ProbeFellOut(named(keys.probe()));
            case PROBES_SWAPPED ->
                    new PlantFault.ProbesSwapped(named(keys.probe()), named(keys.with()));
            case PROBE_NOISE -> new PlantFault.ProbeNoise(named(keys.probe()), number);
            case BUS_ERRORS -> new PlantFault.BusErrors(number);
            case BUS_HANG -> new PlantFault.BusHang();
            case CUT_OFF_RELAY_STUCK -> new PlantFault.CutOffRelayStuck();
            case DOOR_OPEN -> new PlantFault.DoorOpen();
            case AMBIENT_STEP -> new PlantFault.AmbientStep(number);
            default -> throw new AssertionError(word + " does not happen in a cabinet");
        };
    }

    private ProbeName named(Optional<ProbeName> probe) {
        return probe.orElseThrow(
                () -> new IllegalArgumentException(word + " must say which probe it hits"));
    }
}
