package io.evenwarm.agent.guard;

import io.evenwarm.agent.guard.Persistence.Presence;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.message.FindingCode;
import java.util.Optional;

/** The door's switch says that it has been open for longer than a look inside takes. */
final class DoorOpen extends Watch {

    /** 3 min: longer than it takes to look at a shelf. */
    static final double ON_DELAY_SECONDS = 180;

    private static final double OFF_DELAY_SECONDS = 5;

    private final CabinetPlan plan;

    DoorOpen(CabinetPlan plan) {
        super(FindingCode.DOOR_OPEN, Optional.empty(), ON_DELAY_SECONDS, OFF_DELAY_SECONDS);
        this.plan = plan;
    }

    @Override
    Presence look(Circumstances now, boolean isRaised) {
        Optional<Boolean> isOpen = now.facts().signs().isDoorOpen();
        if (isOpen.isEmpty()) {
            return Presence.UNKNOWN;
        }
        // Planned work ends the finding: the person who would be called is there.
        return Presence.of(isOpen.get() && !now.facts().signs().isPlannedWork());
    }

    @Override
    Words words(Circumstances now) {
        boolean isOpen = now.facts().signs().isDoorOpen().orElse(true);
        return new Words(
                (isOpen ? "the door's switch says open" : "the door has just been shut")
                        + "; "
                        + ProbeTexts.airProbes(plan, now.state()),
                Texts.heating(now),
                "Shut the door. If it is shut, check its switch and magnet. Before longer work, say"
                        + " so: evenwarm-agent work "
                        + plan.name());
    }
}
