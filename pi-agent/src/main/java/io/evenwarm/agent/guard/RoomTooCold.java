package io.evenwarm.agent.guard;

import io.evenwarm.agent.guard.Persistence.Presence;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.message.FindingCode;
import java.util.Optional;
import java.util.function.BooleanSupplier;

/**
 * The heater runs all the time, works, and does not get the air up to the set point: the room takes
 * more than the heater has. Air that still rises is warming up; air that falls fast has another
 * cause, such as a dead heater or an open door.
 */
final class RoomTooCold extends Watch {

    /** All but the off-times of the relay's windows. */
    static final double FULL_SHARE = 0.95;

    static final double SHORT_KELVIN = 0.5;
    static final int MINUTES = 30;

    /** Less than this in {@value #MINUTES} minutes is no warming up. */
    static final double RISING_KELVIN = 0.15;

    /** More than this in that time is no cold room: a heater at full power holds against most. */
    static final double FALLING_KELVIN = 1.5;

    private static final double ON_DELAY_SECONDS = 600;
    private static final double OFF_DELAY_SECONDS = 600;

    private final CabinetPlan plan;
    private final BooleanSupplier hasBetterReason;
    private final Trend trend = new Trend(MINUTES);

    /**
     * @param hasBetterReason whether a finding stands that explains it: a dead heater, an open door
     */
    RoomTooCold(CabinetPlan plan, BooleanSupplier hasBetterReason) {
        super(FindingCode.ROOM_TOO_COLD, Optional.empty(), ON_DELAY_SECONDS, OFF_DELAY_SECONDS);
        this.plan = plan;
        this.hasBetterReason = hasBetterReason;
    }

    @Override
    Presence look(Circumstances now, boolean isRaised) {
        if (now.state().isBlind()) {
            return Presence.UNKNOWN;
        }
        boolean isFull = now.heatShare() >= FULL_SHARE && !now.isHeatHeld();
        double process = now.state().processCelsius();
        if (!isFull || now.facts().signs().isPlannedWork()) {
            trend.restart();
            return Presence.ABSENT;
        }
        trend.take(process, now.nowNanos());
        boolean isShort = process < now.setPointCelsius() - SHORT_KELVIN;
        if (isRaised) {
            return Presence.of(isShort);
        }
        boolean isStuck =
                trend.isFull() && trend.rise() < RISING_KELVIN && trend.rise() > -FALLING_KELVIN;
        return Presence.of(isShort && isStuck && !hasBetterReason.getAsBoolean());
    }

    @Override
    Words words(Circumstances now) {
        return new Words(
                "full heat for over half an hour, and "
                        + ProbeTexts.airProbes(plan, now.state())
                        + "; set point "
                        + Texts.celsius(now.setPointCelsius()),
                Texts.heating(now),
                "Warm the room, or wrap the cabinet. For good: a stronger heater, or better"
                        + " insulation.");
    }
}
