package io.evenwarm.agent.guard.health;

/**
 * How far each air probe usually is from the others, and how that goes with the heat: each is taken
 * as {@code common + lasting(s) + quick (q - s)}, with q the share of heat, s its mean of half an
 * hour, and both parts learned by least squares while all is sound. What a probe then reads beside
 * that is its deviation.
 */
final class Layering {

    private static final double MEMORY_SECONDS = 86_400;
    private static final double KEEPS = 1 - BlockMeans.SECONDS / MEMORY_SECONDS;

    /** What lasts longer than this shows in the layers in full. */
    private static final double LASTING_SECONDS = 1800;

    /** Two hours are enough to begin with. */
    private static final double LEAST_BLOCKS = 720;

    /**
     * After so much learning what was learned is kept: a slow drift must not be learned away. Only
     * a share of heat that is new is then learned still.
     */
    private static final double ENOUGH_BLOCKS = 24 * 360;

    /** A mean of half an hour begins with what its first block happened to be. */
    private static final int SETTLED_BLOCKS = 360;

    /**
     * After so much for so long a cold cabinet warms up: how cold walls and tubs part the air is
     * not how its heat will.
     */
    private static final double FULL_SHARE = 0.9;

    /** Nor in the two hours after that. */
    private static final int WARM_BLOCKS = 720;

    /** Heat that hardly varies says nothing about the slope: it is held near 0 by this, share². */
    private static final double RIDGE = 1e-4;

    private final int count;
    private double weight;
    private double heatHeatSum;
    private double learnedBlocks;
    private final double[] awayHeatSum;
    private final double[] quick;
    private final Lag lastingHeat = Lag.fromMean(LASTING_SECONDS);
    private final Lag lessonHeat = Lag.fromMean(LASTING_SECONDS);
    private final Lag[] lessonAway;
    private final LastingLayers lasting;
    private final double[] deviation;
    private final double[] sorted;
    private boolean isLearned;
    private boolean hasFirstLine;
    private boolean isTakenBack;
    private int blocksToSettle;
    private int blocksSinceFull = WARM_BLOCKS;
    private double common = Double.NaN;

    Layering(int count) {
        this.count = count;
        awayHeatSum = new double[count];
        quick = new double[count];
        lessonAway = new Lag[count];
        for (int i = 0; i < count; i++) {
            lessonAway[i] = Lag.fromMean(LASTING_SECONDS);
        }
        lasting = new LastingLayers(count);
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
        lastingHeat.step(heatShare);
        hasFirstLine = isTakenBack;
        isTakenBack = false;
        blocksSinceFull =
                lastingHeat.value() > FULL_SHARE ? 0 : Math.min(WARM_BLOCKS, blocksSinceFull + 1);
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
        boolean isFirstDay = isInFirstDay();
        if (blocksSinceFull < WARM_BLOCKS || (!isFirstDay && !lasting.isNew(lastingHeat.value()))) {
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
        // Only of lessons, so that heat and layers are means of the same blocks.
        double heatAway = heatShare - lessonHeat.step(heatShare);
        double keeps = isFirstDay ? KEEPS : 1;
        weight = weight * keeps + 1;
        heatHeatSum = heatHeatSum * keeps + heatAway * heatAway;
        for (int i = 0; i < count; i++) {
            double away = block.celsius(i) - mean;
            double quickAway = away - lessonAway[i].step(away);
            awayHeatSum[i] = awayHeatSum[i] * keeps + quickAway * heatAway;
            quick[i] = awayHeatSum[i] / (heatHeatSum + RIDGE * weight);
        }
        blocksToSettle = Math.max(0, blocksToSettle - 1);
        if (learnedBlocks > SETTLED_BLOCKS && blocksToSettle == 0) {
            lasting.learn(lessonHeat.value(), lessonAway, keeps);
            if (learnedBlocks >= LEAST_BLOCKS) {
                lasting.fit();
            }
        }
        hasFirstLine |= learnedBlocks == LEAST_BLOCKS;
        isLearned = learnedBlocks >= LEAST_BLOCKS;
    }

    /** Takes what the probes read now as usual, at this deviation from before. */
    void shift(int probe, double kelvin) {
        lasting.shift(probe, kelvin);
    }

    /** Whether all that is seen is learned still, and not only what is new. */
    boolean isInFirstDay() {
        return learnedBlocks < ENOUGH_BLOCKS;
    }

    /** Whether this block gave the first line, so that all is expected elsewhere from now on. */
    boolean hasFirstLine() {
        return hasFirstLine;
    }

    boolean isLearned() {
        return isLearned;
    }

    /** Where a probe is expected beside what is common, K. */
    double expected(int probe, double heatShare) {
        double lastingShare = lastingHeat.value();
        return lasting.kelvin(probe, lastingShare) + quick[probe] * (heatShare - lastingShare);
    }

    /** Share of heat, the last half hour's, 0 to 1. */
    double lastingShare() {
        return lastingHeat.value();
    }

    /** Where a probe comes to rest from the mean of all at a share of heat, K. */
    double restsKelvin(int probe, double heatShare) {
        return lasting.kelvin(probe, heatShare);
    }

    /**
     * By how much a probe comes to rest farther from the others at this heat than at the one now.
     */
    double fromHeatKelvin(int probe, double heatShare) {
        double now = lastingHeat.value();
        return heatShare > now ? lasting.kelvin(probe, heatShare) - lasting.kelvin(probe, now) : 0;
    }

    /**
     * Standard deviation of what is expected, from how far the heat is from all that was seen, K.
     *
     * @param scatterKelvin standard deviation of slow deviations while sound
     */
    double unsureKelvin(double scatterKelvin) {
        return lasting.unsureKelvin(lastingHeat.value(), scatterKelvin);
    }

    /**
     * By how much a probe may be farther from the others than expected at a heat that is new, K.
     */
    double bentKelvin(int probe) {
        return lasting.bentKelvin(probe, lastingHeat.value());
    }

    /** The same in the first day, when the line is young, from the middle to the top, K; else 0. */
    double youngKelvin() {
        return isInFirstDay() ? lasting.youngKelvin(lastingHeat.value()) : 0;
    }

    /** What all trusted probes say, °C: the median, so that one that lies moves it little. */
    double commonCelsius() {
        return common;
    }

    /** A probe's deviation from what is expected beside the trusted ones' mean, K; NaN: none. */
    double deviationKelvin(int probe) {
        return deviation[probe];
    }

    /** What is kept through a restart; the means of half an hour go on from those since then. */
    void learned(LearnedRows rows) {
        lasting.learned(rows);
        weight = rows.number("quick-weight", weight);
        heatHeatSum = rows.number("quick-heat-heat", heatHeatSum);
        rows.numbers("quick-away-heat", awayHeatSum);
        rows.numbers("quick", quick);
        learnedBlocks = rows.number("learned", learnedBlocks);
        if (rows.isReading()) {
            isLearned = learnedBlocks >= LEAST_BLOCKS;
            if (isLearned) {
                lasting.fit();
            }
            isTakenBack = true;
            blocksToSettle = SETTLED_BLOCKS;
        }
    }
}
