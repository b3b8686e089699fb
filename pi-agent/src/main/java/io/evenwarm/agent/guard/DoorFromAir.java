package io.evenwarm.agent.guard;

import io.evenwarm.agent.guard.Persistence.Presence;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.message.FindingCode;
import java.util.Optional;

/** All the air fell faster than any failing heater lets it fall, and stays down: an open door. */
final class DoorFromAir extends Watch {

    private static final double OFF_DELAY_SECONDS = 5;

    private final CabinetPlan plan;

    DoorFromAir(CabinetPlan plan) {
        super(FindingCode.DOOR_OPEN, Optional.empty(), 0, OFF_DELAY_SECONDS);
        this.plan = plan;
    }

    @Override
    Presence look(Circumstances now, boolean isRaised) {
        return Presence.of(
                now.health().doorOpenSeconds() >= DoorOpen.ON_DELAY_SECONDS
                        && !now.facts().signs().isPlannedWork());
    }

    @Override
    Words words(Circumstances now) {
        return new Words(
                "all the air fell by "
                        + Texts.kelvin(now.health().doorFallKelvin())
                        + " at once and stays down; "
                        + ProbeTexts.airProbes(plan, now.state()),
                Texts.heating(now),
                "Shut the door, and look for a gap in its seal. Before longer work, say so:"
                        + " evenwarm-agent work "
                        + plan.name());
    }
}
