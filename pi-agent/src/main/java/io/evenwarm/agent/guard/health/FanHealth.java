package io.evenwarm.agent.guard.health;

/**
 * Whether the fan still mixes the air, from the way top and bottom part at the heat at hand. A
 * growing gap between the top and the bottom thermometer is how keepers notice a dead fan (common
 * practice, no source).
 */
final class FanHealth {

    enum Verdict {
        MIXES,
        WEAK,
        STOPPED
    }

    private static final double STOPPED_LEAST_KELVIN = 0.1;

    /** In the first minutes, the excess of a fan that stopped reaches this share of the usual. */
    private static final double STOPPED_EARLY_SHARE = 1.25;

    private static final int EARLY_BLOCKS = 30;

    /** What has stood for an hour already is not a fan that stops now. */
    private static final double KNOWN_SHARE = 0.4;

    private static final int CERTAIN_BLOCKS = 6;

    /** No fan that still turns at a third of its flow lets the excess grow to this share. */
    private static final double STOPPED_SHARE = 1.9;

    private static final double WEAK_LEAST_KELVIN = 0.06;
    private static final double WEAK_SHARE = 0.35;
    private static final double WEAK_DEVIATIONS = 5;
    private static final int WEAK_BLOCKS = 180;
    private static final double WEAK_STILL_SHARE = 0.7;

    /**
     * Where little heat parts the layers, a slow fan adds little to that. So much less is enough,
     * and however far the layers strayed while their line was young, when it stands for an hour: of
     * 42 sound catalogue terms with weather none came to more than 0.7 of it, at any heat.
     */
    private static final double FAINT_LEAST_KELVIN = 0.025;

    private static final double FAINT_SHARE = 0.25;

    /** With more than this a slow fan parts them by enough, and so does a room that gets cold. */
    private static final double LITTLE_HEAT_SHARE = 0.15;

    private static final int FAINT_BLOCKS = 360;
    private static final double LEAST_USUAL_KELVIN = 0.05;
    private static final double CLEARED_SHARE = 0.5;

    /** Less than makes a probe count as drifting. */
    private static final double HIDING_KELVIN = 0.25;

    private static final int CLEARED_BLOCKS = 60;

    /** Layers that are even without heat say little: a still fan's come together then, too. */
    private static final int CLEARED_BLOCKS_WITHOUT_HEAT = 360;

    private static final double HEAT_SHARE = 0.02;

    private Verdict verdict = Verdict.MIXES;
    private int fanBlocks;
    private int weakBlocks;
    private int faintBlocks;
    private int clearBlocks;
    private int heatedClearBlocks;
    private double excessKelvin;
    private double usualKelvin;

    /**
     * Takes a block in.
     *
     * @param fast the cause over the last minute or two
     * @param slow the cause over the last hour or two
     * @param faint the same, of deviations that {@code slow} leaves alone
     * @param heatShare that reaches the air, 0 to 1
     * @param usualHalfGapKelvin from the middle to the top, as learned, at the heat at hand
     * @param slowScatterKelvin standard deviation of slow deviations while sound
     * @param unsureKelvin how far the usual may be wrong, where the heat at hand is new
     * @param slowUnsureKelvin how much farther for the slow means, while the layers are learned and
     *     after a heat that was new: a fan is not called weak for that
     * @param isDisturbed whether something else parts the layers: a door, a heater that does not
     *     obey
     * @param isQuiet whether the cabinet has recovered from the last opening, so that small
     *     differences count
     * @param isAfterWork whether it makes good for more than a look: cold tubs at the bottom part
     *     the layers for some minutes as a fan that stops does
     */
    void take(
            LayerCauses fast,
            LayerCauses slow,
            LayerCauses faint,
            double heatShare,
            double usualHalfGapKelvin,
            double slowScatterKelvin,
            double unsureKelvin,
            double slowUnsureKelvin,
            boolean isDisturbed,
            boolean isQuiet,
            boolean isAfterWork) {
        usualKelvin = Math.max(LEAST_USUAL_KELVIN, usualHalfGapKelvin);
        if (isDisturbed) {
            return;
        }
        boolean isFan = fast.cause() == LayerCauses.Cause.FAN;
        fanBlocks = isFan ? fanBlocks + 1 : 0;
        double excess = isFan ? fast.kelvin() : 0;
        boolean isNew =
                !isAfterWork
                        && fanBlocks <= EARLY_BLOCKS
                        && !(slow.cause() == LayerCauses.Cause.FAN
                                && slow.kelvin() > KNOWN_SHARE * excess);
        boolean isStopped =
                fanBlocks >= CERTAIN_BLOCKS
                        && excess > STOPPED_LEAST_KELVIN
                        && (excess > unsureKelvin + STOPPED_SHARE * usualKelvin
                                || (isNew
                                        && excess
                                                > unsureKelvin
                                                        + STOPPED_EARLY_SHARE * usualKelvin));
        double weakKelvin =
                unsureKelvin
                        + slowUnsureKelvin
                        + Math.max(
                                Math.max(WEAK_LEAST_KELVIN, WEAK_DEVIATIONS * slowScatterKelvin),
                                WEAK_SHARE * usualKelvin);
        double faintKelvin =
                unsureKelvin
                        + slowUnsureKelvin
                        + Math.max(FAINT_LEAST_KELVIN, FAINT_SHARE * usualKelvin);
        boolean isWeak = isBeyond(slow, weakKelvin);
        boolean isFaint = isBeyond(faint, faintKelvin);
        if (isQuiet) {
            weakBlocks = isWeak ? weakBlocks + 1 : Math.max(0, weakBlocks - 2);
        }
        if (isQuiet && heatShare < LITTLE_HEAT_SHARE) {
            faintBlocks = isFaint ? faintBlocks + 1 : Math.max(0, faintBlocks - 2);
        }
        boolean isWeakForLong = weakBlocks >= WEAK_BLOCKS || faintBlocks >= FAINT_BLOCKS;
        if (isStopped) {
            clearBlocks = verdict == Verdict.STOPPED ? clearBlocks : 0;
            verdict = Verdict.STOPPED;
        } else if (isWeakForLong && verdict == Verdict.MIXES) {
            verdict = Verdict.WEAK;
        }
        excessKelvin =
                Math.max(
                        excess, Math.max(isWeak ? slow.kelvin() : 0, isFaint ? faint.kelvin() : 0));
        if (verdict == Verdict.STOPPED) {
            clearStopped(fast.isWithin() && isQuiet, heatShare);
        } else if (verdict == Verdict.WEAK) {
            boolean isBack =
                    excess < CLEARED_SHARE * weakKelvin && !isWeak && !isFaint && !isHidden(fast);
            clearBlocks = isBack ? clearBlocks + 1 : 0;
            clearAfter(CLEARED_BLOCKS);
        }
    }

    /**
     * Whether a probe left its place by so much that what the fan does may no longer show. Beside a
     * slow fan a top probe that drifts down brings top and bottom together, so that the middle
     * alone seems to be wrong, which is the one that is right: taken out, it lets the top cook.
     */
    private static boolean isHidden(LayerCauses fast) {
        return fast.cause() != LayerCauses.Cause.FAN && Math.abs(fast.kelvin()) > HIDING_KELVIN;
    }

    /** What is told once is not taken back and told again at every turn of the weather. */
    private boolean isBeyond(LayerCauses cause, double kelvin) {
        double needed = verdict == Verdict.WEAK ? WEAK_STILL_SHARE * kelvin : kelvin;
        return cause.cause() == LayerCauses.Cause.FAN && cause.kelvin() > needed;
    }

    /**
     * A fan that turns again brings all the probes back to their places. One probe alone that comes
     * nearer to the others has drifted: it must not end what says that the air stands still.
     */
    private void clearStopped(boolean isBack, double heatShare) {
        heatedClearBlocks = isBack && heatShare > HEAT_SHARE ? heatedClearBlocks + 1 : 0;
        clearBlocks = isBack ? clearBlocks + 1 : 0;
        clearAfter(
                heatedClearBlocks >= CLEARED_BLOCKS ? CLEARED_BLOCKS : CLEARED_BLOCKS_WITHOUT_HEAT);
    }

    private void clearAfter(int blocks) {
        if (clearBlocks >= blocks) {
            verdict = Verdict.MIXES;
            clearBlocks = 0;
            heatedClearBlocks = 0;
        }
    }

    Verdict verdict() {
        return verdict;
    }

    /** Whether the layers part already, though not yet for sure because of the fan. */
    boolean isSuspected() {
        return fanBlocks > 0 || verdict != Verdict.MIXES;
    }

    /** By how much the top is warmer beside the middle than it should be, K. */
    double excessKelvin() {
        return excessKelvin;
    }

    /** How much it should be, K. */
    double usualKelvin() {
        return usualKelvin;
    }
}
