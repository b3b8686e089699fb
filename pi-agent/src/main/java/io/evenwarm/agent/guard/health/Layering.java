package io.evenwarm.agent.guard.health;

/**
 * How far each air probe usually is from the others, and how that goes with the heat: each is taken
 * as {@code common + offset + slope q}, with offset and slope learned by least squares while all is
 * sound. What a probe then reads beside that is its deviation.
 */
final class Layering {

    private static final double MEMORY_SECONDS = 86_400;
    private static final double KEEPS = 1 - BlockMeans.SECONDS / MEMORY_SECONDS;

    /** Two hours are enough to begin with. */
    private static final double LEAST_BLOCKS = 720;

    /** After so much learning what was learned is kept: a slow drift must not be learned away. */
    private static final double ENOUGH_BLOCKS = 24 * 360;

    /** Heat that hardly varies says nothing about the slope: it is held near 0 by this, share². */
    private static final double RIDGE = 1e-4;

    private final int count;
    private double weight;
    private double heatSum;
    private double heatHeatSum;
    private double learnedBlocks;
    private final double[] deviationSum;
    private final double[] deviationHeatSum;
    private final double[] offset;
    private final double[] slope;
    private final double[] deviation;
    private final double[] sorted;
    private boolean isLearned;
    private double common = Double.NaN;

    Layering(int count) {
        this.count = count;
        deviationSum = new double[count];
        deviationHeatSum = new double[count];
        offset = new double[count];
        slope = new double[count];
        deviation = new double[count];
        sorted = new double[count];
    }

    /**
     * Takes a block in: sets {@link #commonCelsius} and the deviations.
     *
     * @param heatShare that reaches the air, 0 to 1
     * @param isTrusted which probes say what is common; a probe outside it has a deviation too
     */
    void take(BlockMeans block, double heatShare, boolean[] isTrusted) {
        double sum = 0;
        int present = 0;
        for (int i = 0; i < count; i++) {
            double value = block.celsius(i);
            if (isTrusted[i] && !Double.isNaN(value)) {
                double level = value - expected(i, heatShare);
                sum += level;
                insert(present++, level);
            }
        }
        if (present == 0) {
            common = Double.NaN;
            return;
        }
        common =
                present % 2 == 1
                        ? sorted[present / 2]
                        : (sorted[present / 2 - 1] + sorted[present / 2]) / 2;
        double mean = sum / present;
        for (int i = 0; i < count; i++) {
            double value = block.celsius(i);
            deviation[i] = Double.isNaN(value) ? Double.NaN : value - mean - expected(i, heatShare);
        }
    }

    private void insert(int size, double value) {
        int at = size;
        while (at > 0 && sorted[at - 1] > value) {
            sorted[at] = sorted[at - 1];
            at--;
        }
        sorted[at] = value;
    }

    /** Learns from the block that was taken in last; only while all probes are good and sound. */
    void learn(BlockMeans block, double heatShare) {
        if (learnedBlocks >= ENOUGH_BLOCKS) {
            return;
        }
        double mean = 0;
        for (int i = 0; i < count; i++) {
            mean += block.celsius(i) / count;
        }
        if (Double.isNaN(mean)) {
            return;
        }
        learnedBlocks++;
        weight = weight * KEEPS + 1;
        heatSum = heatSum * KEEPS + heatShare;
        heatHeatSum = heatHeatSum * KEEPS + heatShare * heatShare;
        double meanHeat = heatSum / weight;
        double variance = Math.max(0, heatHeatSum / weight - meanHeat * meanHeat);
        for (int i = 0; i < count; i++) {
            double away = block.celsius(i) - mean;
            deviationSum[i] = deviationSum[i] * KEEPS + away;
            deviationHeatSum[i] = deviationHeatSum[i] * KEEPS + away * heatShare;
            double meanAway = deviationSum[i] / weight;
            slope[i] = (deviationHeatSum[i] / weight - meanAway * meanHeat) / (variance + RIDGE);
            offset[i] = meanAway - slope[i] * meanHeat;
        }
        isLearned = learnedBlocks >= LEAST_BLOCKS;
    }

    /** Takes what the probes read now as usual, at this deviation from before. */
    void shift(int probe, double kelvin) {
        offset[probe] += kelvin;
        deviationSum[probe] += kelvin * weight;
        deviationHeatSum[probe] += kelvin * heatSum;
    }

    boolean isLearned() {
        return isLearned;
    }

    /** Where a probe is expected beside what is common, K. */
    double expected(int probe, double heatShare) {
        return offset[probe] + slope[probe] * heatShare;
    }

    /** What all trusted probes say, °C: the median, so that one that lies moves it little. */
    double commonCelsius() {
        return common;
    }

    /** A probe's deviation from what is expected beside the trusted ones' mean, K; NaN: none. */
    double deviationKelvin(int probe) {
        return deviation[probe];
    }
}
