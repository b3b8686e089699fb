package io.evenwarm.agent.guard.health;

/**
 * Whether the heater gives less heat than it used to: the air's response to a share of heat, of the
 * last days, against that of the first, and what the layers say to that.
 */
final class HeaterStrength {

    private static final double FIRST_BLOCKS = 4 * 360;

    /** Half a day, so that a noisy first hour is not what all is held against. */
    private static final double BASE_LEAST_BLOCKS = 12 * 360;

    private static final double BASE_BLOCKS = 48 * 360;

    /** Power sunk to this share of what it was is weak; back above the other it no longer is. */
    static final double SURE_SHARE = 0.86;

    /**
     * Below this share the layers alone may say that it is weak: the answer to the relay's cycle
     * need only not speak against it.
     */
    private static final double DOUBTED_SHARE = 0.95;

    /** So many standard errors below it. */
    private static final double ERRORS = 3;

    /** What is known no better than this is not compared. */
    private static final double MOST_ERROR = 0.06;

    private static final double STRONG_SHARE = 0.95;

    /** Far stronger than ever: another heater was put in. */
    private static final double OTHER_HEATER_SHARE = 1.25;

    private final HeatInLayers layers = new HeatInLayers();
    private double learnedBlocks;
    private double baseKelvin;
    private double baseWeight;
    private double share = 1;
    private boolean isBelow;
    private boolean isWeak;

    /**
     * Takes a block in, while all is sound.
     *
     * @param heatShare commanded, 0 to 1
     * @param halfGapKelvin as in {@link HeatInLayers#take}
     */
    void take(HeatResponse response, double heatShare, double halfGapKelvin) {
        layers.take(heatShare, halfGapKelvin);
        take(response.comparableKelvin(), response.comparableErrorKelvin());
    }

    private void take(double comparableKelvin, double errorKelvin) {
        if (Double.isNaN(comparableKelvin) || !(errorKelvin < MOST_ERROR * comparableKelvin)) {
            return;
        }
        learnedBlocks++;
        if (learnedBlocks < FIRST_BLOCKS) {
            return;
        }
        if (baseWeight < BASE_BLOCKS && !isBelow && !layers.isBelow(SURE_SHARE, share)) {
            baseWeight++;
            baseKelvin += (comparableKelvin - baseKelvin) / baseWeight;
        }
        share = comparableKelvin / baseKelvin;
        if (share > OTHER_HEATER_SHARE) {
            baseWeight = 1;
            baseKelvin = comparableKelvin;
            share = 1;
            layers.restart();
        }
        double sure = isWeak ? share : share + ERRORS * errorKelvin / baseKelvin;
        boolean isKnown = baseWeight >= BASE_LEAST_BLOCKS;
        isBelow = isKnown && sure < (isWeak ? STRONG_SHARE : SURE_SHARE);
        boolean isBelowInLayers =
                isKnown && sure < DOUBTED_SHARE && layers.isBelow(SURE_SHARE, share);
        isWeak = (isBelow && (isWeak || layers.isBorneOut(share))) || isBelowInLayers;
    }

    boolean isWeak() {
        return isWeak;
    }

    /** Power as a share of what it was, about 0 to 1.25. */
    double share() {
        return share;
    }

    /** What is kept through a restart. */
    void learned(LearnedRows rows) {
        layers.learned(rows.of("layers"));
        learnedBlocks = rows.number("learned", learnedBlocks);
        baseKelvin = rows.number("base-kelvin", baseKelvin);
        baseWeight = rows.number("base-weight", baseWeight);
        share = rows.number("share", share);
        isBelow = rows.flag("below", isBelow);
        isWeak = rows.flag("weak", isWeak);
    }
}
