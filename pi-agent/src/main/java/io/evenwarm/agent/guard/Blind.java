package io.evenwarm.agent.guard;

import io.evenwarm.agent.guard.Persistence.Presence;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plan.ProbePlan;
import io.evenwarm.message.FindingCode;
import java.util.Optional;

/** No good air probe is left. */
final class Blind extends Watch {

    Blind(CabinetPlan plan) {
        super(FindingCode.BLIND, Optional.empty(), onDelaySeconds(plan), 10);
    }

    /** Heat is off at once; the finding waits for what a bus may need for its first round. */
    private static double onDelaySeconds(CabinetPlan plan) {
        double longest = 0;
        for (ProbePlan probe : plan.probes()) {
            longest = Math.max(longest, probe.staleAfterSeconds());
        }
        return longest;
    }

    @Override
    Presence look(Circumstances now, boolean isRaised) {
        return Presence.of(now.state().isBlind());
    }

    @Override
    Words words(Circumstances now) {
        return new Words(
                "no air probe gives a good reading",
                now.isHeatHeld()
                        ? "heater off and cut-off relay open until a probe is back"
                        : "heats blindly at the fixed duty that is configured, bounded by heater"
                                + " power and room",
                "Go to the cabinet: the eggs are cooling. Check the probes' cable and supply, and"
                        + " watch the temperature with a thermometer of your own.");
    }
}
