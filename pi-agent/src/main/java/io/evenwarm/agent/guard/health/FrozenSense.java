package io.evenwarm.agent.guard.health;

/**
 * Whether one probe says the same all the time while its neighbours move: it no longer follows.
 *
 * <p>A sound probe in a quiet cabinet says the same for many minutes too. So what counts is how far
 * the neighbours have moved since it last changed, against the farthest that they ever did while it
 * was sound, and how long that lasted.
 */
final class FrozenSense {

    /** Rounding of the probe and of its neighbours alone can make this much, K. */
    private static final double LEAST_RANGE_KELVIN = 0.14;

    private static final double USUAL_RANGES = 1.35;

    /** Where the layers are not as they were learned, the neighbours must move farther. */
    private static final double UNSOUND_RANGE_KELVIN = 1;

    /**
     * All the air moves when somebody looks in: so much, and one that says the same throughout does
     * not feel it. Of 28 sound catalogue terms of little noise, with two looks a day, it came to
     * 0.42 K.
     */
    private static final double LOOK_RANGE_KELVIN = 0.7;

    /** So far no neighbour moves alone, whatever is usual here. */
    private static final double UNKNOWN_RANGE_KELVIN = 1.5;

    private static final double MARGIN_KELVIN = 0.02;

    /** A run so many times the longest one of the last days, and some movement beside it. */
    private static final double USUAL_RUNS = 4.5;

    private static final double SOME_RANGE_SHARE = 0.9;

    /**
     * So many times the longest one, and no movement is needed, of a probe that its own noise
     * changes all the time: that goes on however still the cabinet is held.
     */
    private static final double MANY_RUNS = 16;

    /** Such a probe says the same throughout a block in fewer of them than this share. */
    private static final double NOISY_SHARE = 0.5;

    /**
     * So many times the longest one, and not even noise is needed, once a day was seen before:
     * whatever made the probe change all the time goes on. Sound ones came to 12 times in 28
     * catalogue terms of little noise, with weather.
     */
    private static final double MOST_RUNS = 32;

    /** A day. */
    private static final int SAME_BLOCKS = 8640;

    /** One neighbour that goes to and fro between two codes makes this much by itself, K. */
    private static final double CODE_RANGE_KELVIN = 0.05;

    /**
     * A probe that says the same throughout a block in more of them than this share rests: its own
     * noise never changes it, and where the air's movement does not take it over the edge of a step
     * it says the same for as long as the weather leaves it there. It must have come to more than
     * such a step, whatever is usual. In the one sound catalogue term of 500 in which that showed
     * the neighbours had moved by 0.071 K at most.
     */
    private static final double RESTING_SHARE = 0.93;

    private static final double RESTING_RANGE_KELVIN = 0.1;

    private static final int LEAST_RUN_BLOCKS = 180;

    /** Without any heat all stand still, and the one with the finest step seems to move, blocks. */
    private static final double LEAST_RUN_HEAT = 1;

    /** What moved the neighbours before the probe last changed has settled after this. */
    private static final int SETTLED_BLOCKS = 30;

    private static final double FORGETS_A_BLOCK = 1.0 / (3 * 8640);

    /** Three minutes of the same are nothing. */
    private static final int SHORTEST_BLOCKS = 18;

    /**
     * So many blocks must pass before what is usual is known, six hours, and it must have changed
     * once: one that never did tells nothing of how far its neighbours go meanwhile.
     */
    private static final int LEARNING_BLOCKS = 6 * 360;

    private final Lag neighbours = new Lag(60);
    private double lowest;
    private double highest;
    private double lateLowest;
    private double lateHighest;
    private int runBlocks;
    private int seenBlocks;
    private double usualRange;
    private double usualRun;
    private double runHeat;
    private double usualRunHeat;
    private double usualSameShare;
    private boolean wasSound;
    private boolean isFrozen;

    /**
     * Takes a block in.
     *
     * @param wasSame whether all samples in it were the same as the one before
     * @param samples how many it had
     * @param expectedCelsius what the neighbours say that it should read; NaN when they don't
     * @param heatShare that reaches the air, 0 to 1
     * @param hasJumped whether that is now worked out otherwise than before
     * @param isSound whether the cabinet is as it was when its layers were learned
     * @param isMixed whether it is so but for a look or a test, which move all the air
     */
    void take(
            boolean wasSame,
            int samples,
            double expectedCelsius,
            double heatShare,
            boolean hasJumped,
            boolean isSound,
            boolean isMixed) {
        if (samples == 0 || Double.isNaN(expectedCelsius)) {
            return;
        }
        double expected = neighbours.step(expectedCelsius);
        if (isSound) {
            seenBlocks++;
            usualSameShare +=
                    ((wasSame ? 1 : 0) - usualSameShare) / Math.min(seenBlocks, SAME_BLOCKS);
        }
        usualRange *= 1 - FORGETS_A_BLOCK;
        usualRun *= 1 - FORGETS_A_BLOCK;
        usualRunHeat *= 1 - FORGETS_A_BLOCK;
        if (!wasSame) {
            endRun(isSound);
            wasSound = isSound;
            lowest = expected;
            highest = expected;
            return;
        }
        if (hasJumped) {
            neighbours.set(expectedCelsius);
            expected = expectedCelsius;
        }
        // What the neighbours did while a look or a test of the relay moved them counts for nothing
        // once it is over: layers that part by themselves are no sign of a probe that stands still.
        boolean beginsAnew = hasJumped || (isSound && !wasSound);
        wasSound = isSound;
        if (runBlocks == 0 || beginsAnew) {
            lowest = expected;
            highest = expected;
        }
        runBlocks++;
        runHeat += heatShare;
        lowest = Math.min(lowest, expected);
        highest = Math.max(highest, expected);
        if (runBlocks == SETTLED_BLOCKS || (beginsAnew && runBlocks > SETTLED_BLOCKS)) {
            lateLowest = expected;
            lateHighest = expected;
        } else if (runBlocks > SETTLED_BLOCKS) {
            lateLowest = Math.min(lateLowest, expected);
            lateHighest = Math.max(lateHighest, expected);
        }
        if (runBlocks >= SHORTEST_BLOCKS) {
            boolean knowsUsual = seenBlocks > LEARNING_BLOCKS && usualRun > 0;
            isFrozen |=
                    knowsUsual
                            ? isTooFar(isSound, isMixed) || (isSound && isTooLong())
                            : runBlocks > SETTLED_BLOCKS
                                    && lateHighest - lateLowest > UNKNOWN_RANGE_KELVIN;
        }
    }

    private boolean isTooFar(boolean isSound, boolean isMixed) {
        double usual = Math.max(LEAST_RANGE_KELVIN, USUAL_RANGES * usualRange + MARGIN_KELVIN);
        double least = isMixed ? LOOK_RANGE_KELVIN : UNSOUND_RANGE_KELVIN;
        return highest - lowest > (isSound ? usual : Math.max(usual, least));
    }

    private boolean isTooLong() {
        // It is the heater's cycle that makes a probe change: where the weather leaves the heater
        // little to do, all of them say the same for longer.
        boolean isResting = usualSameShare > RESTING_SHARE;
        double least = isResting ? RESTING_RANGE_KELVIN : CODE_RANGE_KELVIN;
        boolean hasMoved =
                lateHighest - lateLowest > Math.max(least, SOME_RANGE_SHARE * usualRange);
        boolean isNoisy = usualSameShare < NOISY_SHARE;
        double runs = hasMoved ? USUAL_RUNS : isNoisy ? MANY_RUNS : MOST_RUNS;
        return (hasMoved || isNoisy || (!isResting && seenBlocks - runBlocks > SAME_BLOCKS))
                && runBlocks > Math.max(LEAST_RUN_BLOCKS, runs * usualRun)
                && runHeat >= Math.max(LEAST_RUN_HEAT, usualRunHeat);
    }

    private void endRun(boolean isSound) {
        if (isSound) {
            // One that moves again was not frozen after all.
            usualRange = Math.max(usualRange, highest - lowest);
            usualRun = Math.max(usualRun, runBlocks);
            usualRunHeat = Math.max(usualRunHeat, runHeat);
        }
        runBlocks = 0;
        runHeat = 0;
        isFrozen = false;
    }

    boolean isFrozen() {
        return isFrozen;
    }

    /** For how long it has said the same, s. */
    double sameSeconds() {
        return (double) runBlocks * BlockMeans.SECONDS;
    }

    /** How far the neighbours moved meanwhile, K. */
    double neighboursMovedKelvin() {
        return highest - lowest;
    }
}
