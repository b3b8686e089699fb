package io.evenwarm.agent.guard;

import io.evenwarm.agent.guard.Persistence.Presence;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.message.FindingCode;
import java.util.Optional;

/** The warmest good air probe is above the warm limit. */
final class TooWarm extends Watch {

    /** 60 s: the usual delay for temperatures in ISA-18.2 and EEMUA 191 (from memory of them). */
    static final double DELAY_SECONDS = 60;

    /** Back below the limit by this much before it counts as over. */
    static final double DEAD_BAND_KELVIN = 0.2;

    /** So long after the door was open, air above the warm limit passes by itself. */
    static final double AFTER_OPENING_SECONDS = 1200;

    /** Cold walls and tubs go on taking heat for so long after the last shelf is warm. */
    static final double AFTER_WARM_UP_SECONDS = 7200;

    private static final long AFTER_WARM_UP_NANOS = (long) (AFTER_WARM_UP_SECONDS * 1e9);

    private final CabinetPlan plan;
    private boolean wasCold;
    private long coldAtNanos;

    TooWarm(CabinetPlan plan) {
        super(FindingCode.TOO_WARM, Optional.empty(), DELAY_SECONDS, DELAY_SECONDS);
        this.plan = plan;
    }

    @Override
    Presence look(Circumstances now, boolean isRaised) {
        if (now.state().isBlind()) {
            return Presence.UNKNOWN;
        }
        if (now.state().celsius(now.state().coldestAir()) < now.limits().tooCold().celsius()) {
            coldAtNanos = now.nowNanos();
            wasCold = true;
        }
        boolean isWarmingUp = wasCold && now.nowNanos() - coldAtNanos < AFTER_WARM_UP_NANOS;
        double limit = now.limits().tooWarm().celsius() - (isRaised ? DEAD_BAND_KELVIN : 0);
        if (!isRaised && now.health().sinceOpenSeconds() < AFTER_OPENING_SECONDS) {
            // The heater makes good for an open door, and overshoots for some minutes; the cut-off
            // waits above as ever.
            limit = now.limits().cutOff().celsius();
        } else if (!isRaised && (isWarmingUp || now.health().isRecovering())) {
            // Much heat for cold walls or tubs parts the layers; half way to the cut-off is soon
            // enough.
            limit = (limit + now.limits().cutOff().celsius()) / 2;
        }
        return Presence.of(now.state().celsius(now.state().warmestAir()) > limit);
    }

    @Override
    Words words(Circumstances now) {
        return new Words(
                ProbeTexts.airProbes(plan, now.state())
                        + "; warm limit "
                        + Texts.celsius(now.limits().tooWarm().celsius()),
                "heats only while the process value is below the set point; cuts off at "
                        + Texts.celsius(now.limits().cutOff().celsius()),
                "Go and look: is the heater off, does the fan run, is the room too warm? If it"
                        + " still climbs, pull the heater's plug.");
    }
}
