package io.evenwarm.agent.guard;

import io.evenwarm.agent.guard.Persistence.Presence;
import io.evenwarm.message.FindingCode;
import java.util.Optional;

/** A latch or a set point could not be written to the state folder. */
final class StateNotSaved extends Watch {

    StateNotSaved() {
        super(FindingCode.STATE_NOT_SAVED, Optional.empty(), 0, 0);
    }

    @Override
    Presence look(Circumstances now, boolean isRaised) {
        return Presence.of(!now.facts().unsaved().isEmpty());
    }

    @Override
    Words words(Circumstances now) {
        return new Words(
                now.facts().unsaved(),
                "keeps it in memory and tries again every 30 s; a power cut now would lose it",
                "Make room on the agent's disk, or make its state folder writable.");
    }
}
