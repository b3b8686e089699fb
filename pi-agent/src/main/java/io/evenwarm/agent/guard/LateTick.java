package io.evenwarm.agent.guard;

import io.evenwarm.agent.guard.Persistence.Presence;
import io.evenwarm.message.FindingCode;
import java.util.Locale;
import java.util.Optional;

/** A tick came far later than a second after the one before. */
final class LateTick extends Watch {

    /** One missed tick happens on a busy machine; two in a row are worth a word. */
    static final double LATE_AFTER_SECONDS = 3;

    private static final double OFF_DELAY_SECONDS = 60;

    private double worstGapSeconds;

    LateTick() {
        super(FindingCode.LATE_TICK, Optional.empty(), 0, OFF_DELAY_SECONDS);
    }

    @Override
    Presence look(Circumstances now, boolean isRaised) {
        double gapSeconds = now.facts().secondsSinceLastTick();
        if (gapSeconds < LATE_AFTER_SECONDS) {
            return Presence.ABSENT;
        }
        worstGapSeconds = isRaised ? Math.max(worstGapSeconds, gapSeconds) : gapSeconds;
        return Presence.PRESENT;
    }

    @Override
    Words words(Circumstances now) {
        return new Words(
                String.format(
                        Locale.ROOT,
                        "%.1f s between two ticks; they should be 1 s apart",
                        worstGapSeconds),
                "goes on; had the gap lasted 4 s, the lapse timer would have switched heat off",
                "Find out what keeps this machine busy: other programs, a failing SD card, too"
                        + " little memory or supply voltage.");
    }
}
