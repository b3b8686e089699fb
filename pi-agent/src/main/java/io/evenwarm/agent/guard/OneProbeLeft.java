package io.evenwarm.agent.guard;

import io.evenwarm.agent.guard.Persistence.Presence;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.message.FindingCode;
import java.util.Optional;

/** One good and believed air probe of several is left. */
final class OneProbeLeft extends Watch {

    private static final double ON_DELAY_SECONDS = 10;
    private static final double OFF_DELAY_SECONDS = 60;

    private final CabinetPlan plan;
    private final CutOff cutOff;

    OneProbeLeft(CabinetPlan plan, CutOff cutOff) {
        super(FindingCode.ONE_PROBE_LEFT, Optional.empty(), ON_DELAY_SECONDS, OFF_DELAY_SECONDS);
        this.plan = plan;
        this.cutOff = cutOff;
    }

    @Override
    Presence look(Circumstances now, boolean isRaised) {
        return now.state().isBlind()
                ? Presence.UNKNOWN
                : Presence.of(cutOff.isLowered(now.state()));
    }

    @Override
    Words words(Circumstances now) {
        return new Words(
                ProbeTexts.airProbes(plan, now.state()),
                "steers and guards by it alone; cuts off at "
                        + Texts.celsius(now.limits().cutOff().celsius())
                        + ", half as far above the set point",
                "Repair the other probes before this one fails too: without it the heater goes off."
                        + " Hold a thermometer of your own beside it.");
    }
}
