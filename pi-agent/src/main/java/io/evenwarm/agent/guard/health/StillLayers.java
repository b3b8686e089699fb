package io.evenwarm.agent.guard.health;

/**
 * How the layers part while the fan stands still, and whether the top's warmest probe still tells
 * it. Both gaps, from the bottom to the middle and from there to the top, then go with the heat.
 * When the upper one alone falls behind, the probe up there drifts down, and steering by it would
 * let the top run away: the heat that control adds shows below, and there only.
 */
final class StillLayers {

    private static final double SLOW_SECONDS = 1800;

    /** Within the first hour the layers are still on their way. */
    private static final int FIRST_BLOCKS = 360;

    /** What they are like by then is what a probe is held against. */
    private static final int ENOUGH_BLOCKS = 1440;

    private static final int LEAST_BLOCKS = 60;
    private static final double LEAST_SHARE = 0.02;
    private static final double LEAST_LOWER_KELVIN = 0.1;

    /** Of the upper gap, what may be missing, and by how many kelvins at least and at most. */
    private static final double MISSING_SHARE = 0.5;

    private static final double LEAST_MISSING_KELVIN = 0.4;
    private static final double MOST_MISSING_KELVIN = 0.8;

    /** A middle that drifts up takes from the upper gap only what it gives to the lower one. */
    private static final double LEAST_MISSING_IN_ALL_KELVIN = 0.3;

    /** And the heat must still show below: else the fan turns again. */
    private static final double LOWER_SHARE = 0.7;

    private static final int LYING_BLOCKS = 90;

    private final double[] height;
    private final Lag heat = new Lag(SLOW_SECONDS);
    private final Lag upper = new Lag(SLOW_SECONDS);
    private final Lag lower = new Lag(SLOW_SECONDS);
    private int blocks;
    private int learned;
    private double heatSum;
    private double upperSum;
    private double lowerSum;
    private int lyingBlocks;

    /**
     * @param height of each probe, as in {@link LayerCauses}
     */
    StillLayers(double[] height) {
        this.height = height;
    }

    /** The fan turns, as far as one can tell: what was seen of still air counts no more. */
    void restart() {
        blocks = 0;
        learned = 0;
        heatSum = 0;
        upperSum = 0;
        lowerSum = 0;
        lyingBlocks = 0;
    }

    /**
     * Takes a block in while the fan stands still.
     *
     * @param deviation of each trusted probe from its place with the fan on, K; NaN for others
     * @param heatShare commanded, 0 to 1: in still air the heater shows so little in the middle
     *     that what it is taken to give may be wrong
     * @param isRecovered whether the last opening is made good
     * @return the probe at the top that drifts down, or -1
     */
    int take(double[] deviation, double heatShare, boolean isRecovered) {
        double share = heat.step(heatShare);
        int top = warmestTop(deviation);
        double middle = mean(deviation, 0);
        double bottom = mean(deviation, -1);
        if (top < 0 || Double.isNaN(middle + bottom)) {
            return -1;
        }
        double above = upper.step(deviation[top] - middle);
        double below = lower.step(middle - bottom);
        blocks++;
        if (blocks <= FIRST_BLOCKS || share < LEAST_SHARE || !isRecovered) {
            return -1;
        }
        if (learned < LEAST_BLOCKS || blocks <= ENOUGH_BLOCKS) {
            learned++;
            heatSum += share;
            upperSum += above;
            lowerSum += below;
        }
        lyingBlocks = learned >= LEAST_BLOCKS && isLying(share, above, below) ? lyingBlocks + 1 : 0;
        return lyingBlocks >= LYING_BLOCKS ? top : -1;
    }

    private boolean isLying(double share, double above, double below) {
        double fromHeat = lowerSum / heatSum * share;
        // What the heat alone does not explain shows in both gaps.
        double alike = Math.min(1, below / fromHeat);
        double expectedAbove = upperSum / heatSum * share * alike;
        double expectedBelow = fromHeat * alike;
        double missing = expectedAbove - above;
        double missingInAll = missing + expectedBelow - below;
        return missing
                        > Math.max(
                                LEAST_MISSING_KELVIN,
                                Math.min(MOST_MISSING_KELVIN, MISSING_SHARE * expectedAbove))
                && missingInAll > LEAST_MISSING_IN_ALL_KELVIN
                && below > LEAST_LOWER_KELVIN
                && below > LOWER_SHARE * fromHeat;
    }

    private int warmestTop(double[] deviation) {
        int warmest = -1;
        for (int i = 0; i < height.length; i++) {
            if (height[i] == 1
                    && !Double.isNaN(deviation[i])
                    && (warmest < 0 || deviation[i] > deviation[warmest])) {
                warmest = i;
            }
        }
        return warmest;
    }

    private double mean(double[] deviation, double where) {
        double sum = 0;
        int present = 0;
        for (int i = 0; i < height.length; i++) {
            if (height[i] == where && !Double.isNaN(deviation[i])) {
                sum += deviation[i];
                present++;
            }
        }
        return present == 0 ? Double.NaN : sum / present;
    }
}
