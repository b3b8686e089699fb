package io.evenwarm.agent.guard;

import io.evenwarm.agent.guard.Persistence.Presence;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.message.FindingCode;
import java.util.Locale;
import java.util.Optional;

/**
 * The fan's tachometer counts too few turns: {@code fan-stopped} or {@code fan-weak}. Says nothing
 * where no tachometer is fitted or it can't be read: there the air's layers must tell.
 */
final class FanByTachometer extends Watch {

    /** Below this share of its usual turns a fan moves next to no air. */
    static final double STOPPED_SHARE = 0.15;

    /** Air goes with the turns (fan laws): this is a fifth less of both. */
    static final double WEAK_SHARE = 0.8;

    private static final double DEAD_BAND_SHARE = 0.05;
    private static final double STOPPED_DELAY_SECONDS = 10;
    private static final double WEAK_DELAY_SECONDS = 120;
    private static final double OFF_DELAY_SECONDS = 30;

    private final CabinetPlan plan;
    private final FanTurns turns;
    private final boolean isAboutStopping;

    private FanByTachometer(CabinetPlan plan, FanTurns turns, boolean isAboutStopping) {
        super(
                isAboutStopping ? FindingCode.FAN_STOPPED : FindingCode.FAN_WEAK,
                Optional.empty(),
                isAboutStopping ? STOPPED_DELAY_SECONDS : WEAK_DELAY_SECONDS,
                OFF_DELAY_SECONDS);
        this.plan = plan;
        this.turns = turns;
        this.isAboutStopping = isAboutStopping;
    }

    /** Finds a fan that stands still. Its caller updates {@code turns} once a tick, before. */
    static FanByTachometer stopped(CabinetPlan plan, FanTurns turns) {
        return new FanByTachometer(plan, turns, true);
    }

    /** Finds a fan that turns too slowly. */
    static FanByTachometer weak(CabinetPlan plan, FanTurns turns) {
        return new FanByTachometer(plan, turns, false);
    }

    @Override
    Presence look(Circumstances now, boolean isRaised) {
        if (!turns.isKnown() || now.facts().signs().isPlannedWork()) {
            return Presence.UNKNOWN;
        }
        double share = turns.share();
        double deadBand = isRaised ? DEAD_BAND_SHARE : 0;
        boolean isStopped = share < STOPPED_SHARE + (isAboutStopping ? deadBand : 0);
        return Presence.of(
                isAboutStopping ? isStopped : !isStopped && share < WEAK_SHARE + deadBand);
    }

    @Override
    Words words(Circumstances now) {
        String evidence =
                (turns.isKnown()
                                ? String.format(Locale.ROOT, "%.0f turns a minute", turns.now())
                                : "no turns counted")
                        + (turns.usual() > 0
                                ? String.format(Locale.ROOT, "; usually %.0f", turns.usual())
                                : "; it has not turned since the agent started");
        return new Words(
                evidence,
                (plan.drivesFan() ? "keeps the fan switched on; " : "")
                        + "goes on heating, steered by the warmest probe, so that no shelf gets hot",
                isAboutStopping
                        ? "Go and look: does the fan turn, has it current, is its plug in? Free or"
                                + " replace it; the bottom of the cabinet goes cold meanwhile."
                        : "Clean the fan and its grille, and replace it soon: worn bearings slow a"
                                + " fan before they stop it.");
    }
}
