package io.evenwarm.agent.guard;

import io.evenwarm.agent.cabinet.CabinetState;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plan.FallbackPlan;
import io.evenwarm.message.ProbePlace;
import java.util.Optional;

/**
 * How much heat a blind cabinet gets: none, unless its keeper configured a fixed duty. That is then
 * bounded so that the steady temperature, computed from the heater's stated power, the stated heat
 * loss and the room, stays {@value #BELOW_CUT_OFF_KELVIN} K below the cut-off. The room is what its
 * probe reads, and the stated warmest where none does.
 *
 * <p>No such heat before an air probe has been good for {@value #SEEN_SECONDS} s in this run, while
 * any reading inside is at the cut-off, or while a tub is at the set point.
 */
final class BlindFallback {

    static final double BELOW_CUT_OFF_KELVIN = 1;
    static final double SEEN_SECONDS = 600;

    /** More heat than the duty in the last minutes: the relay's windows alone make this much. */
    static final double SHARE_MARGIN = 0.25;

    private final CabinetPlan plan;
    private final Optional<FallbackPlan> fallback;
    private final double cutOffCelsius;
    private final int room;
    private double seenSeconds;
    private double duty;

    BlindFallback(CabinetPlan plan, double cutOffCelsius) {
        this.plan = plan;
        this.fallback = plan.guard().fallback();
        this.cutOffCelsius = cutOffCelsius;
        this.room = RoomTooWarm.roomProbe(plan);
    }

    /** The duty for this tick, 0 for no heat. */
    double duty() {
        return duty;
    }

    /** Takes a tick in. Returns whether the cabinet is blind and must not be heated. */
    boolean update(
            CabinetState state, double setPointCelsius, double heatShare, double elapsedSeconds) {
        duty = 0;
        if (!state.isBlind()) {
            seenSeconds = Math.min(SEEN_SECONDS, seenSeconds + elapsedSeconds);
            return false;
        }
        if (fallback.isEmpty() || seenSeconds < SEEN_SECONDS || isWarm(state, setPointCelsius)) {
            return true;
        }
        FallbackPlan allowed = fallback.get();
        double roomCelsius =
                room >= 0 && state.isTrusted(room)
                        ? state.celsius(room)
                        : allowed.warmestRoomCelsius();
        double bounded =
                Math.min(
                        allowed.duty(),
                        allowed.mostDuty(cutOffCelsius - BELOW_CUT_OFF_KELVIN, roomCelsius));
        if (bounded <= 0 || heatShare > bounded + SHARE_MARGIN) {
            return true;
        }
        duty = bounded;
        return false;
    }

    /** Whether anything that still reads speaks against heat. */
    private boolean isWarm(CabinetState state, double setPointCelsius) {
        for (int i = 0; i < plan.probes().size(); i++) {
            if (!state.isGood(i)) {
                continue;
            }
            ProbePlace.Kind kind = plan.probes().get(i).place().kind();
            double limit = kind == ProbePlace.Kind.TUB ? setPointCelsius : cutOffCelsius;
            if (kind != ProbePlace.Kind.AMBIENT && state.celsius(i) >= limit) {
                return true;
            }
        }
        return false;
    }
}
