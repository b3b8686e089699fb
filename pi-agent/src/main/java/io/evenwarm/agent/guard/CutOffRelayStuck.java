package io.evenwarm.agent.guard;

import io.evenwarm.agent.guard.Persistence.Presence;
import io.evenwarm.message.FindingCode;
import java.util.Optional;

/**
 * The cut-off relay was opened and heat came all the same, in two tests; {@link CutOffRelayTest}.
 */
final class CutOffRelayStuck extends Watch {

    private final CutOffRelayTest test;

    CutOffRelayStuck(CutOffRelayTest test) {
        super(FindingCode.CUT_OFF_RELAY_STUCK, Optional.empty(), 0, 0);
        this.test = test;
    }

    @Override
    Presence look(Circumstances now, boolean isRaised) {
        return Presence.of(test.isStuck());
    }

    @Override
    Words words(Circumstances now) {
        return new Words(
                test.evidence(),
                "goes on heating by the heater relay alone; tests again each day",
                "Replace the cut-off relay, or check how it is wired. Until then only the"
                        + " independent thermal cut-out stops a heater relay that welds: stay near.");
    }
}
