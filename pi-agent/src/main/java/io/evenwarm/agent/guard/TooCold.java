package io.evenwarm.agent.guard;

import io.evenwarm.agent.guard.Persistence.Presence;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.port.Latch;
import io.evenwarm.message.FindingCode;
import java.util.Optional;

/**
 * The coldest good air probe is below the cold limit, and not because the cabinet is still warming
 * up: after the start, and after a person moved the set point, the finding waits until the cabinet
 * has settled, or until {@value #WARM_UP_SECONDS} s went by without that.
 */
final class TooCold extends Watch {

    /** 4 h: a full cabinet with the smallest heater of the range warms up in less. */
    static final double WARM_UP_SECONDS = 4 * 3600;

    /** After planned work the walls and the eggs are still warm: the air is soon back. */
    static final double AFTER_WORK_SECONDS = 3600;

    /** With the door open for so long, the cold itself is to be told of. */
    private static final double LONGEST_LOOK_SECONDS = 1800;

    private static final double NANOS_PER_SECOND = 1e9;

    private final CabinetPlan plan;
    private boolean isWarmingUp = true;
    private boolean hasWarmUpStarted;
    private boolean wasWork;
    private long warmUpSinceNanos;

    TooCold(CabinetPlan plan) {
        super(FindingCode.TOO_COLD, Optional.empty(), TooWarm.DELAY_SECONDS, TooWarm.DELAY_SECONDS);
        this.plan = plan;
    }

    void expectWarmUp() {
        isWarmingUp = true;
        hasWarmUpStarted = false;
        wasWork = false;
    }

    @Override
    Presence look(Circumstances now, boolean isRaised) {
        if (isWarmingUp && !hasWarmUpStarted) {
            hasWarmUpStarted = true;
            warmUpSinceNanos = now.nowNanos();
        }
        if (now.facts().signs().isPlannedWork() || isLook(now)) {
            // The open door, and the way back after it.
            isWarmingUp = !isRaised;
            warmUpSinceNanos = now.nowNanos();
            // Cold tubs need as long as a warm-up.
            wasWork = !now.facts().signs().isPlannedWork();
            return Presence.UNKNOWN;
        }
        if (now.health().doorOpenSeconds() >= LONGEST_LOOK_SECONDS) {
            isWarmingUp = false;
        }
        if (now.state().isBlind()) {
            return Presence.UNKNOWN;
        }
        double limit = now.limits().tooCold().celsius() + (isRaised ? TooWarm.DEAD_BAND_KELVIN : 0);
        boolean isCold = now.state().celsius(now.state().coldestAir()) < limit;
        if (isWarmingUp) {
            isWarmingUp =
                    !now.isSettled()
                            && now.nowNanos() - warmUpSinceNanos
                                    < (wasWork ? AFTER_WORK_SECONDS : WARM_UP_SECONDS)
                                            * NANOS_PER_SECOND;
        }
        // A finding that is there already stays: a new set point does not make it untrue.
        return Presence.of(isCold && (isRaised || !isWarmingUp));
    }

    /** A door that was opened a short while ago has a finding of its own when it stays open. */
    private static boolean isLook(Circumstances now) {
        if (now.health().sinceOpenSeconds() > 0) {
            return false;
        }
        double seconds = now.health().doorOpenSeconds();
        return seconds < LONGEST_LOOK_SECONDS;
    }

    @Override
    Words words(Circumstances now) {
        return new Words(
                ProbeTexts.airProbes(plan, now.state())
                        + "; cold limit "
                        + Texts.celsius(now.limits().tooCold().celsius()),
                Texts.heating(now),
                now.latch() instanceof Latch.Tripped
                        ? "The eggs are cooling because the cut-off has tripped: find out why it"
                                + " did, then reset it."
                        : "Go and look: is the door shut, has the heater current (fuse, plug, thermal"
                                + " cut-out), does the fan run?");
    }
}
