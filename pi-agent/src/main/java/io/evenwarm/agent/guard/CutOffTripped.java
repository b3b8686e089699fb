package io.evenwarm.agent.guard;

import io.evenwarm.agent.guard.Persistence.Presence;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.port.Latch;
import io.evenwarm.message.FindingCode;
import java.util.Optional;

/** The hard cut-off's latch is tripped. */
final class CutOffTripped extends Watch {

    private final CabinetPlan plan;

    CutOffTripped(CabinetPlan plan) {
        super(FindingCode.CUT_OFF_TRIPPED, Optional.empty(), 0, 0);
        this.plan = plan;
    }

    @Override
    Presence look(Circumstances now, boolean isRaised) {
        return Presence.of(now.latch() instanceof Latch.Tripped);
    }

    @Override
    Words words(Circumstances now) {
        return new Words(
                now.latch().trippedReason().orElse(""),
                plan.hasCutOffRelay()
                        ? "heater off and cut-off relay open until a person resets it"
                        : "heater off until a person resets it; no cut-off relay is fitted, so a"
                                + " welded heater relay would still heat",
                "Go to the cabinet. If it is still getting warmer, pull the heater's plug. Find out"
                        + " why it got hot before you reset the cut-off.");
    }
}
