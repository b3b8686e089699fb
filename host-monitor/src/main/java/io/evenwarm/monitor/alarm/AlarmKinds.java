package io.evenwarm.monitor.alarm;

import io.evenwarm.message.FindingCode;
import io.evenwarm.monitor.alarm.AlarmKind.Danger;
import io.evenwarm.monitor.alarm.AlarmKind.Reach;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * Every kind of alarm there is. Listed so that whatever explains another one stands before it: that
 * is the order in which alarms of one moment are judged.
 */
final class AlarmKinds {

    private static final List<AlarmKind> LISTED =
            List.of(
                    // What stops heat, or the whole machine.
                    kind(FindingCode.MAINS_RETURNED, Danger.COLD, Priority.LOW)
                            .latching()
                            .reaching(Reach.HOUSE)
                            .make(),
                    kind(AlarmCodes.AGENT_SILENT, Danger.COLD, Priority.MEDIUM)
                            .reaching(Reach.HOUSE)
                            .with(FindingCode.MAINS_RETURNED)
                            .make(),
                    kind(FindingCode.CUT_OFF_TRIPPED, Danger.EITHER, Priority.MEDIUM)
                            .latching()
                            .make(),
                    kind(FindingCode.HEATER_STUCK_ON, Danger.EITHER, Priority.MEDIUM)
                            .latching()
                            .make(),
                    kind(FindingCode.OUTPUT_FAILING, Danger.EITHER, Priority.MEDIUM).make(),
                    kind(FindingCode.AGENT_FAULT, Danger.COLD, Priority.MEDIUM).make(),
                    kind(FindingCode.BLIND, Danger.COLD, Priority.MEDIUM).make(),
                    kind(FindingCode.HEATER_DEAD, Danger.COLD, Priority.LOW)
                            // Both stand still where a cabinet has no power.
                            .with(FindingCode.FAN_STOPPED)
                            .showingLostPower()
                            .make(),
                    kind(FindingCode.DOOR_OPEN, Danger.COLD, Priority.LOW).byDoor().make(),
                    kind(FindingCode.FAN_STOPPED, Danger.NONE, Priority.MEDIUM)
                            .showingLostPower()
                            .make(),
                    // What follows from these, or harms slowly.
                    kind(FindingCode.HEATER_WEAK, Danger.NONE, Priority.LOW)
                            .by(FindingCode.HEATER_DEAD)
                            .make(),
                    kind(FindingCode.ROOM_TOO_WARM, Danger.HEAT, Priority.LOW)
                            .by(FindingCode.HEATER_STUCK_ON)
                            .make(),
                    kind(FindingCode.ROOM_TOO_COLD, Danger.COLD, Priority.LOW)
                            .by(
                                    FindingCode.MAINS_RETURNED,
                                    FindingCode.HEATER_DEAD,
                                    FindingCode.DOOR_OPEN)
                            .byDoor()
                            .sayingHowCold()
                            .make(),
                    kind(AlarmCodes.FAR_TOO_WARM, Danger.HEAT, Priority.MEDIUM)
                            .latching()
                            .by(FindingCode.CUT_OFF_TRIPPED, FindingCode.HEATER_STUCK_ON)
                            .make(),
                    kind(AlarmCodes.FAR_TOO_COLD, Danger.COLD, Priority.LOW)
                            .by(
                                    FindingCode.MAINS_RETURNED,
                                    FindingCode.CUT_OFF_TRIPPED,
                                    FindingCode.OUTPUT_FAILING,
                                    FindingCode.AGENT_FAULT,
                                    FindingCode.BLIND,
                                    FindingCode.HEATER_DEAD,
                                    FindingCode.DOOR_OPEN)
                            .byDoor()
                            .sayingHowCold()
                            .showingLostPower()
                            .make(),
                    kind(FindingCode.TOO_WARM, Danger.HEAT, Priority.LOW)
                            .by(
                                    AlarmCodes.FAR_TOO_WARM,
                                    FindingCode.CUT_OFF_TRIPPED,
                                    FindingCode.HEATER_STUCK_ON,
                                    FindingCode.ROOM_TOO_WARM,
                                    FindingCode.FAN_STOPPED)
                            // With little wind the heat stays in the top.
                            .with(
                                    FindingCode.PROBE_FALLEN_OUT,
                                    FindingCode.PROBE_DRIFTING,
                                    FindingCode.FAN_WEAK,
                                    AlarmCodes.AIR_FLOW_WEAK)
                            .byDoor()
                            .make(),
                    kind(FindingCode.TOO_COLD, Danger.COLD, Priority.LOW)
                            .by(
                                    AlarmCodes.FAR_TOO_COLD,
                                    FindingCode.MAINS_RETURNED,
                                    FindingCode.CUT_OFF_TRIPPED,
                                    FindingCode.OUTPUT_FAILING,
                                    FindingCode.AGENT_FAULT,
                                    FindingCode.BLIND,
                                    FindingCode.HEATER_DEAD,
                                    FindingCode.HEATER_WEAK,
                                    FindingCode.ROOM_TOO_COLD,
                                    FindingCode.DOOR_OPEN,
                                    FindingCode.FAN_STOPPED)
                            .with(FindingCode.PROBE_FALLEN_OUT, FindingCode.PROBE_DRIFTING)
                            .byDoor()
                            .sayingHowCold()
                            .showingLostPower()
                            .make(),
                    kind(FindingCode.FAN_WEAK, Danger.NONE, Priority.LOW)
                            .by(FindingCode.FAN_STOPPED, FindingCode.TOO_COLD)
                            .make(),
                    kind(AlarmCodes.AIR_FLOW_WEAK, Danger.NONE, Priority.LOW)
                            .by(FindingCode.FAN_STOPPED, FindingCode.FAN_WEAK)
                            .make(),
                    kind(AlarmCodes.UNEVEN, Danger.NONE, Priority.LOW)
                            .by(
                                    FindingCode.MAINS_RETURNED,
                                    FindingCode.FAN_STOPPED,
                                    FindingCode.FAN_WEAK,
                                    AlarmCodes.AIR_FLOW_WEAK,
                                    FindingCode.DOOR_OPEN)
                            // A probe that lies shows as layers, as cold or as heat, before it is
                            // found.
                            .with(
                                    FindingCode.TOO_COLD,
                                    FindingCode.TOO_WARM,
                                    FindingCode.PROBE_FALLEN_OUT,
                                    FindingCode.PROBE_DRIFTING,
                                    FindingCode.PROBE_FROZEN)
                            .byDoor()
                            .make(),
                    kind(AlarmCodes.TOO_DRY, Danger.NONE, Priority.LOW)
                            .by(FindingCode.MAINS_RETURNED, FindingCode.DOOR_OPEN)
                            .byDoor()
                            .make(),
                    kind(AlarmCodes.TOO_DAMP, Danger.NONE, Priority.LOW)
                            .by(FindingCode.MAINS_RETURNED, FindingCode.DOOR_OPEN)
                            .byDoor()
                            .make(),
                    // Probes.
                    kind(FindingCode.ONE_PROBE_LEFT, Danger.NONE, Priority.LOW)
                            .by(FindingCode.BLIND)
                            .make(),
                    kind(FindingCode.PROBE_LOST, Danger.NONE, Priority.LOW)
                            .by(FindingCode.BLIND, FindingCode.ONE_PROBE_LEFT)
                            .make(),
                    kind(FindingCode.PROBE_FALLEN_OUT, Danger.NONE, Priority.LOW).make(),
                    kind(FindingCode.PROBE_FROZEN, Danger.NONE, Priority.LOW).make(),
                    kind(FindingCode.PROBE_DRIFTING, Danger.NONE, Priority.LOW).make(),
                    kind(FindingCode.PROBE_NOISY, Danger.NONE, Priority.LOW).make(),
                    kind(FindingCode.PROBES_SWAPPED, Danger.NONE, Priority.LOW).make(),
                    kind(FindingCode.PROBES_DISAGREE, Danger.NONE, Priority.LOW)
                            .by(
                                    FindingCode.FAN_STOPPED,
                                    AlarmCodes.AIR_FLOW_WEAK,
                                    FindingCode.PROBE_FALLEN_OUT,
                                    FindingCode.PROBE_FROZEN,
                                    FindingCode.PROBE_DRIFTING,
                                    FindingCode.PROBE_NOISY)
                            .byDoor()
                            .make(),
                    // Wear, and what watches over the rest.
                    kind(FindingCode.CUT_OFF_RELAY_STUCK, Danger.NONE, Priority.LOW).make(),
                    kind(FindingCode.RELAY_CHATTER, Danger.NONE, Priority.LOW).make(),
                    kind(FindingCode.STATE_NOT_SAVED, Danger.NONE, Priority.LOW).make(),
                    kind(FindingCode.LATE_TICK, Danger.NONE, Priority.LOW)
                            .reaching(Reach.AGENT)
                            .make(),
                    kind(FindingCode.JOURNAL_FAILING, Danger.NONE, Priority.LOW)
                            .reaching(Reach.AGENT)
                            .make(),
                    kind(FindingCode.CLOCK_UNTRUSTED, Danger.NONE, Priority.LOW)
                            .reaching(Reach.AGENT)
                            .by(FindingCode.MAINS_RETURNED)
                            .make(),
                    kind(AlarmCodes.CABINET_STALE, Danger.COLD, Priority.MEDIUM)
                            .by(AlarmCodes.AGENT_SILENT)
                            .make(),
                    kind(AlarmCodes.STORE_FAILING, Danger.NONE, Priority.MEDIUM)
                            .reaching(Reach.MONITOR)
                            .make(),
                    kind(AlarmCodes.NOTICES_FAILING, Danger.NONE, Priority.MEDIUM)
                            .reaching(Reach.MONITOR)
                            .make(),
                    kind(AlarmCodes.SWITCH_NOT_FED, Danger.NONE, Priority.LOW)
                            .by(AlarmCodes.STORE_FAILING, AlarmCodes.NOTICES_FAILING)
                            .reaching(Reach.MONITOR)
                            .make(),
                    // An exercise has the way of the most pressing.
                    kind(AlarmCodes.DRILL, Danger.NONE, Priority.HIGH).make(),
                    kind(AlarmCodes.DRILL_OVERDUE, Danger.NONE, Priority.LOW)
                            .reaching(Reach.MONITOR)
                            .make(),
                    kind(AlarmCodes.PROBE_CHECK_DUE, Danger.NONE, Priority.LOW).make());

    private static final Map<FindingCode, AlarmKind> BY_CODE =
            LISTED.stream().collect(Collectors.toMap(AlarmKind::code, Function.identity()));

    private static final Map<FindingCode, Integer> RANKS =
            Stream.iterate(0, index -> index + 1)
                    .limit(LISTED.size())
                    .collect(Collectors.toMap(index -> LISTED.get(index).code(), index -> index));

    private AlarmKinds() {}

    /** Every kind, in the order of judging. */
    static List<AlarmKind> all() {
        return LISTED;
    }

    /**
     * The kind of a code. What a newer agent finds and this monitor does not know could be
     * anything: it is of medium priority at least, and nothing explains it.
     */
    static AlarmKind of(FindingCode code) {
        AlarmKind listed = BY_CODE.get(code);
        return listed != null ? listed : kind(code, Danger.EITHER, Priority.MEDIUM).make();
    }

    /** Whatever explains another one has a lower rank. */
    static int rank(FindingCode code) {
        return RANKS.getOrDefault(code, LISTED.size());
    }

    private static Maker kind(FindingCode code, Danger danger, Priority least) {
        return new Maker(code, danger, least);
    }

    /** Collects what is unusual about a kind. */
    private static final class Maker {

        private final FindingCode code;
        private final Danger danger;
        private final Priority least;
        private final List<FindingCode> explainedBy = new ArrayList<>();
        private final List<FindingCode> comesWith = new ArrayList<>();
        private boolean isLatching;
        private boolean isExplainedByDoor;
        private boolean isOnlyHowCold;
        private boolean showsLostPower;
        private Reach reach = Reach.CABINET;

        Maker(FindingCode code, Danger danger, Priority least) {
            this.code = code;
            this.danger = danger;
            this.least = least;
        }

        Maker sayingHowCold() {
            isOnlyHowCold = true;
            return this;
        }

        Maker showingLostPower() {
            showsLostPower = true;
            return this;
        }

        Maker latching() {
            isLatching = true;
            return this;
        }

        Maker reaching(Reach how) {
            reach = how;
            return this;
        }

        Maker by(FindingCode... codes) {
            explainedBy.addAll(List.of(codes));
            return this;
        }

        Maker byDoor() {
            isExplainedByDoor = true;
            return this;
        }

        Maker with(FindingCode... codes) {
            comesWith.addAll(List.of(codes));
            return this;
        }

        AlarmKind make() {
            return new AlarmKind(
                    code,
                    danger,
                    least,
                    isLatching,
                    reach,
                    Set.copyOf(explainedBy),
                    isExplainedByDoor,
                    Set.copyOf(comesWith),
                    isOnlyHowCold,
                    showsLostPower);
        }
    }
}
