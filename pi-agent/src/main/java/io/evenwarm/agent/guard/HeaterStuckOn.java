package io.evenwarm.agent.guard;

import io.evenwarm.agent.guard.Persistence.Presence;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.port.Latch;
import io.evenwarm.message.FindingCode;
import java.util.Optional;

/** The air warms as it would with the heater on although nothing commands it. */
final class HeaterStuckOn extends Watch {

    private static final double OFF_DELAY_SECONDS = 60;

    private final CabinetPlan plan;

    HeaterStuckOn(CabinetPlan plan) {
        super(FindingCode.HEATER_STUCK_ON, Optional.empty(), 0, OFF_DELAY_SECONDS);
        this.plan = plan;
    }

    @Override
    Presence look(Circumstances now, boolean isRaised) {
        return Presence.of(now.isHeaterStuckOn());
    }

    @Override
    Words words(Circumstances now) {
        return new Words(
                ProbeTexts.airProbes(plan, now.state())
                        + "; warms as with the heater on, commanded on for "
                        + Texts.percent(now.heatShare())
                        + " of the last minutes",
                action(now),
                "Go there now. Pull the heater's plug if it still warms, and watch the cabinet by"
                        + " hand: the heater's relay may have welded. Have it replaced.");
    }

    private String action(Circumstances now) {
        if (!plan.hasCutOffRelay()) {
            return "commands the heater off; no cut-off relay is fitted that could stop it";
        }
        if (now.latch() instanceof Latch.Tripped) {
            return "holds the cut-off relay open until a person resets the cut-off";
        }
        return "opens the cut-off relay once it is "
                + Texts.kelvin(StuckHeater.WARM_KELVIN)
                + " too warm and closes it again when it has cooled, so that the eggs go neither"
                + " hot nor cold";
    }
}
