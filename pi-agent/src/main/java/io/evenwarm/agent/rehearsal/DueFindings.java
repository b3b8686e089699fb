package io.evenwarm.agent.rehearsal;

import io.evenwarm.agent.plan.ControlPlan;
import io.evenwarm.agent.plant.CabinetBuild;
import io.evenwarm.agent.plant.PlantFault;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.ProbeName;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;

/**
 * Which findings a fault makes due: the one place that says so, printed in {@code
 * docs/scenarios.md}. A right finding names what is wrong; a finding that only follows from the
 * fault is neither right nor false.
 */
final class DueFindings {

    /** A heater this much short of what holds the set point can't be seen to be short. */
    private static final double CLEARLY = 0.95;

    /** Where the warm limit stands above the set point. */
    private static final double WARM_KELVIN = 1;

    /** Below this share of failed readings a probe is seldom silent for long enough. */
    static final double BUS_ERRORS_DUE_SHARE = 0.6;

    private static final double DAY_SECONDS = 86_400;

    /** A door may be open for so long. */
    static final double DOOR_SECONDS = 180;

    /**
     * What a kind of fault makes due.
     *
     * @param right any of these names the fault
     * @param isAboutItsProbe whether a right finding must be about the fault's own probe
     * @param follows these may come of it too
     */
    record Row(List<FindingCode> right, boolean isAboutItsProbe, Set<FindingCode> follows) {}

    private DueFindings() {}

    private static FindingCode[] codes(FindingCode... codes) {
        return codes;
    }

    private static Row any(FindingCode[] right, FindingCode... follows) {
        return new Row(List.of(right), false, Set.of(follows));
    }

    private static Row ofItsProbe(FindingCode right, FindingCode... follows) {
        return new Row(List.of(right), true, Set.of(follows));
    }

    static Row of(FaultKind kind) {
        return switch (kind) {
            case HEATER_STUCK_ON -> any(codes(FindingCode.HEATER_STUCK_ON));
            case HEATER_OPEN -> any(codes(FindingCode.HEATER_DEAD), FindingCode.ROOM_TOO_COLD);
            case HEATER_WEAK -> any(codes(FindingCode.HEATER_WEAK), FindingCode.ROOM_TOO_COLD);
            case FAN_STOPPED ->
                    any(
                            codes(FindingCode.FAN_STOPPED),
                            FindingCode.FAN_WEAK,
                            FindingCode.PROBES_DISAGREE);
            case FAN_SLOW ->
                    any(
                            codes(FindingCode.FAN_WEAK, FindingCode.FAN_STOPPED),
                            FindingCode.PROBES_DISAGREE);
            case PROBE_FROZEN -> ofItsProbe(FindingCode.PROBE_FROZEN, FindingCode.PROBES_DISAGREE);
            case PROBE_DRIFT ->
                    ofItsProbe(
                            FindingCode.PROBE_DRIFTING,
                            FindingCode.PROBES_DISAGREE,
                            // In weeks it drifts to where no sensor measures.
                            FindingCode.PROBE_LOST);
            case PROBE_DROPOUT -> ofItsProbe(FindingCode.PROBE_LOST);
            case PROBE_FELL_OUT ->
                    ofItsProbe(FindingCode.PROBE_FALLEN_OUT, FindingCode.PROBES_DISAGREE);
            case BUS_ERRORS ->
                    any(
                            codes(FindingCode.PROBE_LOST),
                            FindingCode.BLIND,
                            FindingCode.ONE_PROBE_LEFT,
                            // Heat stops with each silence.
                            FindingCode.RELAY_CHATTER);
            case BUS_HANG ->
                    any(
                            codes(FindingCode.PROBE_LOST, FindingCode.BLIND),
                            FindingCode.ONE_PROBE_LEFT);
            case CUT_OFF_RELAY_STUCK -> any(codes(FindingCode.CUT_OFF_RELAY_STUCK));
            case DOOR_OPEN -> any(codes(FindingCode.DOOR_OPEN), FindingCode.ROOM_TOO_COLD);
            case MAINS_CUT ->
                    any(
                            codes(FindingCode.MAINS_RETURNED, FindingCode.HEATER_DEAD),
                            FindingCode.FAN_STOPPED,
                            FindingCode.FAN_WEAK,
                            FindingCode.PROBES_DISAGREE,
                            FindingCode.ROOM_TOO_COLD);
            case PROBES_SWAPPED ->
                    any(codes(FindingCode.PROBES_SWAPPED), FindingCode.PROBES_DISAGREE);
            case PROBE_NOISE -> ofItsProbe(FindingCode.PROBE_NOISY, FindingCode.PROBES_DISAGREE);
            case CLOCK_STEP -> any(codes(FindingCode.CLOCK_UNTRUSTED));
            case CONTROL_HANG -> any(codes(FindingCode.LATE_TICK));
            case AGENT_CRASH, LINK_LOST -> any(codes());
            case RELAY_CHATTER -> any(codes(FindingCode.RELAY_CHATTER));
            case DISK_FULL -> any(codes(FindingCode.JOURNAL_FAILING), FindingCode.STATE_NOT_SAVED);
            case AMBIENT_STEP -> any(codes(FindingCode.ROOM_TOO_COLD, FindingCode.ROOM_TOO_WARM));
        };
    }

    /** When a right finding must come of this kind, in words. */
    private static String when(FaultKind kind) {
        return switch (kind) {
            case BUS_ERRORS -> "from a share of " + BUS_ERRORS_DUE_SHARE + " on; else it may";
            case DOOR_OPEN -> "after 3 min";
            case MAINS_CUT -> "when the mains comes back within the run";
            case CONTROL_HANG -> "when it ends within the run";
            case CLOCK_STEP -> "never; it may";
            case RELAY_CHATTER ->
                    "when the relay is switched on more often than "
                            + ControlPlan.DAILY_OPERATIONS
                            + " times a day from then on; else it may";
            case AMBIENT_STEP ->
                    "down: when the heater can't hold the set point; up: when the cabinet rests 1 K"
                            + " above it without heat; not where that stands already";
            default -> of(kind).right().isEmpty() ? "never" : "always";
        };
    }

    /** The table of the documents, a line a kind. */
    static List<String> documentRows() {
        List<String> rows = new ArrayList<>();
        for (FaultKind kind : FaultKind.values()) {
            Row row = of(kind);
            rows.add(
                    "| `"
                            + kind.word()
                            + "` | "
                            + words(row.right())
                            + (row.isAboutItsProbe() ? " of that probe" : "")
                            + " | "
                            + when(kind)
                            + " | "
                            + words(row.follows().stream().sorted().toList())
                            + " |");
        }
        return rows;
    }

    private static String words(List<FindingCode> codes) {
        return codes.isEmpty()
                ? "none"
                : codes.stream().map(code -> "`" + code + "`").collect(Collectors.joining(", "));
    }

    /** Whether a finding names this fault. */
    static boolean isRight(Scenario.TimedFault fault, FindingCode code, Optional<ProbeName> probe) {
        if (fault.what() instanceof Mishap.InCabinet in
                && in.fault() instanceof PlantFault.AmbientStep step) {
            return code.equals(
                    step.kelvin() > 0 ? FindingCode.ROOM_TOO_WARM : FindingCode.ROOM_TOO_COLD);
        }
        Row row = of(fault.kind());
        return row.right().contains(code)
                && (!row.isAboutItsProbe() || probe.equals(fault.probe()));
    }

    /** Whether a finding only follows from this fault. */
    static boolean follows(Scenario.TimedFault fault, FindingCode code) {
        Row row = of(fault.kind());
        return row.follows().contains(code)
                || (row.right().contains(code) && !row.isAboutItsProbe());
    }

    /**
     * Whether a right finding must come of this fault, a run's only one, after what became of it;
     * else one may. A short window wears the relay only where heat is asked for: within what a
     * mechanical relay may be switched a day there is nothing to find.
     */
    static boolean isDue(Scenario scenario, Scenario.TimedFault fault, Verdict verdict) {
        if (of(fault.kind()).right().isEmpty()) {
            return false;
        }
        if (fault.what() instanceof Mishap.ClockStep) {
            return false;
        }
        if (fault.what() instanceof Mishap.RelayChatter) {
            double days = (scenario.durationSeconds() - fault.atSeconds()) / DAY_SECONDS;
            return verdict.relayOperationsSinceFault() > ControlPlan.DAILY_OPERATIONS * days;
        }
        if (fault.what() instanceof Mishap.MainsCut || fault.what() instanceof Mishap.ControlHang) {
            return fault.untilSeconds() < scenario.durationSeconds();
        }
        if (!(fault.what() instanceof Mishap.InCabinet in)) {
            return true;
        }
        if (in.fault() instanceof PlantFault.BusErrors errors) {
            return errors.share() >= BUS_ERRORS_DUE_SHARE;
        }
        if (in.fault() instanceof PlantFault.DoorOpen) {
            return fault.untilSeconds() - fault.atSeconds() > DOOR_SECONDS;
        }
        if (in.fault() instanceof PlantFault.AmbientStep step) {
            return isStepDue(scenario.cabinet(), step.kelvin()) && !isToldAlready(fault, verdict);
        }
        return true;
    }

    /** Whether a right finding stands already, so that it can't be raised. */
    private static boolean isToldAlready(Scenario.TimedFault fault, Verdict verdict) {
        return verdict.findings().stream()
                .anyMatch(
                        found ->
                                isRight(fault, found.code(), found.probe())
                                        && found.raisedAtSeconds() < fault.atSeconds()
                                        && found.clearedAtSeconds().orElse(Double.MAX_VALUE)
                                                > fault.atSeconds());
    }

    /** Whether a finding is due because a door was open for long, and nobody had said so. */
    static boolean isDue(Everyday happening, FindingLog.Span span) {
        return span.finding().code().equals(FindingCode.DOOR_OPEN)
                && !happening.isAnnounced()
                && happening.forSeconds() > DOOR_SECONDS
                && span.raisedAtSeconds() >= happening.atSeconds()
                && span.raisedAtSeconds() <= happening.untilSeconds() + DOOR_SECONDS;
    }

    /** Cold: the heater can't hold the set point. Warm: without heat the limit is passed. */
    private static boolean isStepDue(Scenario.Cabinet cabinet, double kelvin) {
        CabinetBuild build = cabinet.build();
        double room = build.ambientCelsius() + kelvin;
        double holdingWatts =
                build.heatLossWattsPerKelvin() * (cabinet.setPointCelsius() - room)
                        - build.fanWatts();
        return kelvin > 0
                ? restCelsius(build, room) > cabinet.setPointCelsius() + WARM_KELVIN
                : holdingWatts * CLEARLY > build.heaterWatts();
    }

    /** Whether the room and the fan's own heat alone take a sound cabinet too far up. */
    static boolean isRoomToBlame(Scenario scenario, FindingLog.Span span) {
        CabinetBuild build = scenario.cabinet().build();
        double warmest =
                build.ambientCelsius()
                        + build.ambientSwingKelvin()
                        + scenario.weather().warmestKelvin();
        double rest = restCelsius(build, warmest) - scenario.cabinet().setPointCelsius();
        FindingCode code = span.finding().code();
        return (code.equals(FindingCode.ROOM_TOO_WARM) && rest > 0)
                || (code.equals(FindingCode.TOO_WARM)
                        && span.isBorneOut()
                        && rest > WARM_KELVIN * CLEARLY);
    }

    /**
     * Whether the room and the fan's own heat hold a sound cabinet even in the coldest hour of its
     * day: its heater is never asked, so that nothing shows what became of it.
     */
    static boolean isNeverHeated(Scenario.Cabinet cabinet) {
        CabinetBuild build = cabinet.build();
        double coldest = build.ambientCelsius() - build.ambientSwingKelvin();
        return restCelsius(build, coldest) >= cabinet.setPointCelsius();
    }

    /** Where a cabinet comes to rest with no heat but the fan's. */
    static double restCelsius(CabinetBuild build, double roomCelsius) {
        return roomCelsius + build.fanWatts() / build.heatLossWattsPerKelvin();
    }
}
