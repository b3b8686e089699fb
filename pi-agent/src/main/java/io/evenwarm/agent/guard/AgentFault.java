package io.evenwarm.agent.guard;

import io.evenwarm.agent.guard.Persistence.Presence;
import io.evenwarm.message.FindingCode;
import java.util.Optional;

/** The agent's own code failed in this cabinet's tick. */
final class AgentFault extends Watch {

    private static final double OFF_DELAY_SECONDS = 60;

    private String lastFault = "";

    AgentFault() {
        super(FindingCode.AGENT_FAULT, Optional.empty(), 0, OFF_DELAY_SECONDS);
    }

    @Override
    Presence look(Circumstances now, boolean isRaised) {
        if (now.facts().internalFault().isEmpty()) {
            return Presence.ABSENT;
        }
        lastFault = now.facts().internalFault();
        return Presence.PRESENT;
    }

    @Override
    Words words(Circumstances now) {
        return about(lastFault);
    }

    static Words about(String fault) {
        return new Words(
                "internal error: " + fault,
                "heater off and cut-off relay open; tries again each second",
                "Watch the cabinet yourself, restart the agent, and report the error with the"
                        + " agent's log.");
    }
}
