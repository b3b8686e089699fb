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
    HEATER_STUCK_ON("heater-stuck-on", Needs.NOTHING, ""),
    HEATER_OPEN("heater-open", Needs.NOTHING, ""),
    HEATER_WEAK("heater-weak", Needs.NUMBER, "power_share"),
    FAN_STOPPED("fan-stopped", Needs.NOTHING, ""),
    FAN_SLOW("fan-slow", Needs.NUMBER, "flow_share"),
    PROBE_FROZEN("probe-frozen", Needs.PROBE, ""),
    PROBE_DRIFT("probe-drift", Needs.PROBE_AND_NUMBER, "kelvin_per_hour"),
    PROBE_DROPOUT("probe-dropout", Needs.PROBE, ""),
    PROBE_FELL_OUT("probe-fell-out", Needs.PROBE, ""),
    BUS_ERRORS("bus-errors", Needs.NUMBER, "share"),
    BUS_HANG("bus-hang", Needs.NOTHING, ""),
    CUT_OFF_RELAY_STUCK("cut-off-relay-stuck", Needs.NOTHING, ""),
    DOOR_OPEN("door-open", Needs.NOTHING, ""),
    MAINS_CUT("mains-cut", Needs.NOTHING, ""),
    AMBIENT_STEP("ambient-step", Needs.NUMBER, "kelvin");

    private static final Map<Class<? extends PlantFault>, FaultKind> OF_PLANT =
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
                    Map.entry(PlantFault.BusErrors.class, BUS_ERRORS),
                    Map.entry(PlantFault.BusHang.class, BUS_HANG),
                    Map.entry(PlantFault.CutOffRelayStuck.class, CUT_OFF_RELAY_STUCK),
                    Map.entry(PlantFault.DoorOpen.class, DOOR_OPEN),
                    Map.entry(PlantFault.MainsCut.class, MAINS_CUT),
                    Map.entry(PlantFault.AmbientStep.class, AMBIENT_STEP));

    private enum Needs {
        NOTHING,
        NUMBER,
        PROBE,
        PROBE_AND_NUMBER
    }

    private final String word;
    private final Needs needs;
    private final String numberKey;

    FaultKind(String word, Needs needs, String numberKey) {
        this.word = word;
        this.needs = needs;
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
        return what instanceof Mishap.InCabinet in
                ? ofPlant(in.fault())
                : unknown(what.getClass().getSimpleName());
    }

    private static FaultKind ofPlant(PlantFault fault) {
        FaultKind kind = OF_PLANT.get(fault.getClass());
        return kind == null ? unknown(fault.getClass().getSimpleName()) : kind;
    }

    private static FaultKind unknown(String what) {
        throw new IllegalArgumentException("no kind of fault is called " + what);
    }

    /** Itself, and how bad it is. */
    String words(Scenario.TimedFault fault) {
        StringBuilder words = new StringBuilder(word);
        fault.probe().ifPresent(probe -> words.append(' ').append(probe));
        if (fault.what() instanceof Mishap.InCabinet in) {
            OptionalDouble number = number(in.fault());
            if (number.isPresent()) {
                words.append(String.format(Locale.ROOT, " %.3g", number.getAsDouble()));
            }
        }
        if (fault.forSeconds().isPresent()) {
            words.append(" for ").append(Times.words(fault.forSeconds()));
        }
        return words.toString();
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
        if (fault instanceof PlantFault.BusErrors errors) {
            return OptionalDouble.of(errors.share());
        }
        return fault instanceof PlantFault.AmbientStep step
                ? OptionalDouble.of(step.kelvin())
                : OptionalDouble.empty();
    }

    /** Whether it hits one probe, which must be named. */
    public boolean needsProbe() {
        return needs == Needs.PROBE || needs == Needs.PROBE_AND_NUMBER;
    }

    /** The key of the number that it needs, where it needs one. */
    public Optional<String> numberKey() {
        return numberKey.isEmpty() ? Optional.empty() : Optional.of(numberKey);
    }

    /**
     * The fault itself.
     *
     * @param probe the probe that it hits; looked at only by kinds that need one
     * @param number its number; looked at only by kinds that need one
     * @throws IllegalArgumentException when the probe is missing or the number is out of range; the
     *     message says what is allowed
     */
    public PlantFault make(Optional<ProbeName> probe, double number) {
        return switch (this) {
            case HEATER_STUCK_ON -> new PlantFault.HeaterRelayWelded();
            case HEATER_OPEN -> new PlantFault.HeaterOpen();
            case HEATER_WEAK -> new PlantFault.HeaterWeak(number);
            case FAN_STOPPED -> new PlantFault.FanStopped();
            case FAN_SLOW -> new PlantFault.FanSlow(number);
            case PROBE_FROZEN -> new PlantFault.ProbeFrozen(named(probe));
            case PROBE_DRIFT -> new PlantFault.ProbeDrift(named(probe), number);
            case PROBE_DROPOUT -> new PlantFault.ProbeDropout(named(probe));
            case PROBE_FELL_OUT -> new PlantFault.ProbeFellOut(named(probe));
            case BUS_ERRORS -> new PlantFault.BusErrors(number);
            case BUS_HANG -> new PlantFault.BusHang();
            case CUT_OFF_RELAY_STUCK -> new PlantFault.CutOffRelayStuck();
            case DOOR_OPEN -> new PlantFault.DoorOpen();
            case MAINS_CUT -> new PlantFault.MainsCut();
            case AMBIENT_STEP -> new PlantFault.AmbientStep(number);
        };
    }

    private ProbeName named(Optional<ProbeName> probe) {
        return probe.orElseThrow(
                () -> new IllegalArgumentException(word + " must say which probe it hits"));
    }
}
