package io.evenwarm.agent.guard;

import io.evenwarm.agent.guard.Persistence.Presence;
import io.evenwarm.message.FindingCode;
import java.util.Optional;

/** The heater gives clearly less heat than it gave in the first days. */
final class HeaterWeak extends Watch {

    private static final double DELAY_SECONDS = 6 * 3600.0;

    HeaterWeak() {
        super(FindingCode.HEATER_WEAK, Optional.empty(), DELAY_SECONDS, DELAY_SECONDS);
    }

    @Override
    Presence look(Circumstances now, boolean isRaised) {
        return now.health().isRecallPending()
                ? Presence.UNKNOWN
                : Presence.of(now.health().isHeaterWeak());
    }

    @Override
    Words words(Circumstances now) {
        return new Words(
                "warms the air with about "
                        + Texts.percent(now.health().heaterPowerShare())
                        + " of the power of the first days",
                Texts.heating(now),
                "Plan to replace the heater soon: a part of it may have failed. Check whether"
                        + " something now covers it, and the mains voltage.");
    }
}
