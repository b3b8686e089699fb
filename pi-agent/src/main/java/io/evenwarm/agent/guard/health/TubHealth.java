package io.evenwarm.agent.guard.health;

/**
 * Whether a probe in a tub still tells the eggs' temperature. Damp medium follows the air over
 * hours: what moves within minutes is no longer in it, and what leaves the air's mean for good has
 * drifted. That it stands still says nothing: so does a tub in a cabinet that holds.
 */
final class TubHealth {

    private static final double MINUTE_SECONDS = 60;
    private static final int RING_BLOCKS = 30;

    /** No tub warms or cools so much in five minutes with the air about it. */
    private static final double FALLEN_KELVIN = 0.5;

    private static final double AIR_SECONDS = 3 * 3600.0;
    private static final int LEARNING_BLOCKS = 6 * 360;
    private static final double LEARNED_BLOCKS = 24 * 360;
    private static final double DRIFT_KELVIN = 0.6;
    private static final int DRIFT_BLOCKS = 360;
    private static final double CLEARED_KELVIN = 0.3;
    private static final int CLEARED_BLOCKS = 360;

    /** Without noise for so long: it no longer scatters. */
    private static final int QUIET_BLOCKS = 60;

    private final ScatterSense scatter = new ScatterSense();
    private final Lag tub = new Lag(MINUTE_SECONDS);
    private final Lag air = new Lag(AIR_SECONDS);
    private final double[] ring = new double[RING_BLOCKS];
    private int blocks;

    /** Since when the air is warmer than it, blocks; no more than the ring has. */
    private int warmerBlocks;

    private double usualKelvin;
    private double learnedBlocks;
    private double deviationKelvin;
    private int driftBlocks;

    /** After a start, the air's mean of three hours must be one before it tells anything. */
    private int blocksToSettle;

    private int clearBlocks;
    private int quietBlocks;
    private ProbeTrouble trouble = ProbeTrouble.NONE;

    /**
     * Takes a block in.
     *
     * @param tubCelsius what the probe says
     * @param airCelsius what the air's probes say
     * @param isQuiet whether the cabinet has recovered from the last opening
     */
    void take(double tubCelsius, double airCelsius, boolean isQuiet) {
        if (Double.isNaN(tubCelsius) || Double.isNaN(airCelsius)) {
            blocks = 0;
            warmerBlocks = 0;
            return;
        }
        takeNoise();
        double now = tub.step(tubCelsius);
        double away = now - air.step(airCelsius);
        deviationKelvin = away - usualKelvin;
        int slot = blocks % RING_BLOCKS;
        // Only what it fell by while the air was the warmer: after a reloading a cold cabinet cools
        // the tub quickly, and then is warm again before the tub is.
        warmerBlocks = now < airCelsius ? Math.min(warmerBlocks + 1, RING_BLOCKS) : 0;
        double before = ring[(slot + RING_BLOCKS - warmerBlocks) % RING_BLOCKS];
        double moved = blocks >= RING_BLOCKS ? now - before : 0;
        ring[slot] = now;
        blocks = blocks + 1 >= 2 * RING_BLOCKS ? RING_BLOCKS + slot + 1 : blocks + 1;
        // Only downwards: one that turns hot is not to be disbelieved for it.
        boolean isLeaving = moved < 0 && now < airCelsius;
        if (Math.abs(moved) > FALLEN_KELVIN && isLeaving && !scatter.isLoud()) {
            trouble = ProbeTrouble.FALLEN_OUT;
            clearBlocks = 0;
        }
        if (!isQuiet) {
            return;
        }
        if (blocksToSettle > 0) {
            blocksToSettle--;
            return;
        }
        boolean isOff = Math.abs(deviationKelvin) > DRIFT_KELVIN;
        if (learnedBlocks < LEARNED_BLOCKS && !isOff && trouble == ProbeTrouble.NONE) {
            learnedBlocks++;
            usualKelvin += (away - usualKelvin) / learnedBlocks;
        }
        driftBlocks = isOff && learnedBlocks > LEARNING_BLOCKS ? driftBlocks + 1 : 0;
        if (trouble == ProbeTrouble.NONE && driftBlocks >= DRIFT_BLOCKS) {
            trouble = ProbeTrouble.DRIFTING;
        }
        clearBlocks = Math.abs(deviationKelvin) < CLEARED_KELVIN ? clearBlocks + 1 : 0;
        if (clearBlocks >= CLEARED_BLOCKS && trouble != ProbeTrouble.NOISY) {
            trouble = ProbeTrouble.NONE;
        }
    }

    /** What the air's probes say together has another meaning from here on. */
    void learnAnew() {
        usualKelvin += deviationKelvin;
        learnedBlocks = 0;
        driftBlocks = 0;
    }

    private void takeNoise() {
        if (trouble == ProbeTrouble.NONE && scatter.isNoisy()) {
            trouble = ProbeTrouble.NOISY;
            quietBlocks = 0;
        } else if (trouble == ProbeTrouble.NOISY) {
            quietBlocks = scatter.isNoisy() ? 0 : quietBlocks + 1;
            if (quietBlocks >= QUIET_BLOCKS) {
                trouble = ProbeTrouble.NONE;
            }
        }
    }

    /** Its scatter takes each block before {@link #take}. */
    ScatterSense scatter() {
        return scatter;
    }

    ProbeTrouble trouble() {
        return trouble;
    }

    /** How far it is from where the air and its past put it, K. */
    double deviationKelvin() {
        return deviationKelvin;
    }

    /** What is kept through a restart. */
    void learned(LearnedRows rows) {
        scatter.learned(rows.of("scatter"));
        usualKelvin = rows.number("usual", usualKelvin);
        learnedBlocks = rows.number("learned", learnedBlocks);
        if (rows.isReading()) {
            driftBlocks = 0;
            blocksToSettle = LEARNING_BLOCKS;
        }
    }
}
