package io.evenwarm.agent.guard;

import io.evenwarm.agent.guard.Persistence.Presence;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plan.ProbePlan;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.ProbePlace;
import java.util.Optional;
import java.util.function.BooleanSupplier;

/**
 * The heater has been off for long and the air stays above the set point: the room, or the fan's
 * own heat, is too much. A probe in the room that reads far less speaks against it.
 */
final class RoomTooWarm extends Watch {

    /** The heater's relay was off for all of the last quarter of an hour. */
    static final double NO_SHARE = 0.05;

    static final double ABOVE_KELVIN = 0.4;
    static final int MINUTES = 20;

    /** Falling faster than this in {@value #MINUTES} minutes it is on its way back. */
    static final double FALLING_KELVIN = 0.1;

    /** The fan's own heat lifts a shut cabinet no further above the room. */
    static final double ROOM_BELOW_KELVIN = 6;

    private static final double ON_DELAY_SECONDS = 300;
    private static final double OFF_DELAY_SECONDS = 600;

    private final CabinetPlan plan;
    private final int room;
    private final BooleanSupplier hasBetterReason;
    private final Trend trend = new Trend(MINUTES);

    /**
     * @param hasBetterReason whether a finding stands that explains it: a heater that is stuck on
     */
    RoomTooWarm(CabinetPlan plan, BooleanSupplier hasBetterReason) {
        super(FindingCode.ROOM_TOO_WARM, Optional.empty(), ON_DELAY_SECONDS, OFF_DELAY_SECONDS);
        this.plan = plan;
        this.hasBetterReason = hasBetterReason;
        room = roomProbe(plan);
    }

    /** The first thermometer in the room, or -1. */
    static int roomProbe(CabinetPlan plan) {
        for (int i = 0; i < plan.probes().size(); i++) {
            ProbePlan probe = plan.probes().get(i);
            if (probe.sensor().isThermometer() && probe.place().kind() == ProbePlace.Kind.AMBIENT) {
                return i;
            }
        }
        return -1;
    }

    @Override
    Presence look(Circumstances now, boolean isRaised) {
        if (now.state().isBlind()) {
            return Presence.UNKNOWN;
        }
        double process = now.state().processCelsius();
        if (now.heatShare() >= NO_SHARE) {
            trend.restart();
            return Presence.ABSENT;
        }
        trend.take(process, now.nowNanos());
        boolean isAbove = process > now.highestSetPointCelsius() + ABOVE_KELVIN;
        if (isRaised) {
            return Presence.of(process > now.highestSetPointCelsius() + ABOVE_KELVIN / 2);
        }
        boolean isCoolRoom =
                room >= 0
                        && now.state().isTrusted(room)
                        && now.state().celsius(room) < process - ROOM_BELOW_KELVIN;
        return Presence.of(
                isAbove
                        && !isCoolRoom
                        && trend.isFull()
                        && trend.rise() > -FALLING_KELVIN
                        && !hasBetterReason.getAsBoolean());
    }

    @Override
    Words words(Circumstances now) {
        return new Words(
                "heater off for over 20 min, and "
                        + ProbeTexts.airProbes(plan, now.state())
                        + "; set point "
                        + Texts.celsius(now.setPointCelsius())
                        + (room >= 0 && now.state().isGood(room)
                                ? "; room " + Texts.celsius(now.state().celsius(room))
                                : ""),
                "keeps the heater off; cuts off at "
                        + Texts.celsius(now.limits().cutOff().celsius())
                        + ", which can't cool",
                "Cool the room, shade the cabinet, or open its door a hand's breadth under your"
                        + " eyes. Make sure that the heater is cold.");
    }
}
