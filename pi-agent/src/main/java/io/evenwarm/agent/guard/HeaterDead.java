package io.evenwarm.agent.guard;

import io.evenwarm.agent.guard.Persistence.Presence;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.message.FindingCode;
import java.util.Optional;

/** The heater is commanded on, and the air cools as it would without it. */
final class HeaterDead extends Watch {

    private static final double OFF_DELAY_SECONDS = 60;

    private final CabinetPlan plan;

    HeaterDead(CabinetPlan plan) {
        super(FindingCode.HEATER_DEAD, Optional.empty(), 0, OFF_DELAY_SECONDS);
        this.plan = plan;
    }

    @Override
    Presence look(Circumstances now, boolean isRaised) {
        return Presence.of(now.health().isHeaterDead());
    }

    @Override
    Words words(Circumstances now) {
        return new Words(
                ProbeTexts.airProbes(plan, now.state())
                        + "; no heat comes, commanded on for "
                        + Texts.percent(now.heatShare())
                        + " of the last minutes",
                Texts.heating(now),
                "The eggs are cooling; they have hours, not minutes. Keep the door shut. Check the"
                        + " heater's plug, fuse and thermal cut-out, then the heater and its relay."
                        + " Put a warm, wrapped bottle in if it takes longer.");
    }
}
