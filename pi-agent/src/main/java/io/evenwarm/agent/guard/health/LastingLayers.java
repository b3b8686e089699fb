package io.evenwarm.agent.guard.health;

/**
 * How far each probe comes to rest from the others at a heat that lasts: a straight line over the
 * share of heat, by least squares. In a cabinet of catalogue size, half an hour's means keep to it
 * within a few thousandths of a kelvin over weeks of weather, while the relay's own quick cycle
 * hardly moves the layers: so the two are learned apart.
 *
 * <p>What was learned of a share of heat is kept, so that a probe that drifts or a fan that slows
 * is not learned as the usual. A share that was never seen is learned when it comes; until then the
 * line is drawn out to it, and {@link #unsureKelvin} says how far that may be wrong.
 */
final class LastingLayers {

    /** Shares of heat that are learned together. */
    private static final double BIN_SHARE = 0.02;

    private static final int BINS = (int) (1 / BIN_SHARE) + 1;

    /**
     * After the first day only more or less heat than ever before is learned, each share of it for
     * so long, and then kept.
     */
    private static final double ENOUGH_BLOCKS = 120;

    /**
     * Half an hour's means are as good as independent after an hour: so many blocks are worth one.
     */
    private static final double BLOCKS_ALIKE = 360;

    /** Before heat has varied: how much farther top and middle may part at full heat, K. */
    private static final double USUAL_SLOPE_KELVIN = 1;

    /** What rounding leaves of a mean of half an hour, where there is no noise to break it. */
    private static final double LEAST_SCATTER_KELVIN = 0.004;

    /** What else moves the layers at one heat, such as walls and tubs that still warm up. */
    private static final double SLOW_SCATTER_KELVIN = 0.02;

    /** Keeps the line level while heat has not varied. */
    private static final double RIDGE =
            BLOCKS_ALIKE
                    * SLOW_SCATTER_KELVIN
                    * SLOW_SCATTER_KELVIN
                    / (USUAL_SLOPE_KELVIN * USUAL_SLOPE_KELVIN);

    /** Far from all that was seen, layers part by up to this share more than the line tells. */
    private static final double BENT_SHARE = 0.5;

    /** What was seen of a heat for two hours in all is known. */
    private static final double KNOWN_BLOCKS = 720;

    private final int count;
    private final double[] weight = new double[BINS];
    private final double[] shareSum = new double[BINS];
    private final double[][] awaySum;
    private final double[] offset;
    private final double[] slope;
    private double meanShare;
    private double spread = RIDGE;

    LastingLayers(int count) {
        this.count = count;
        awaySum = new double[BINS][count];
        offset = new double[count];
        slope = new double[count];
    }

    private static int bin(double share) {
        return (int) Math.max(0, Math.min(BINS - 1, share / BIN_SHARE));
    }

    /** Whether there was hardly ever so much heat, or so little. */
    boolean isNew(double share) {
        int bin = bin(share);
        boolean isLeast = true;
        boolean isMost = true;
        for (int i = 0; i < BINS; i++) {
            boolean isKnown = weight[i] >= ENOUGH_BLOCKS;
            isLeast &= !(isKnown && i <= bin);
            isMost &= !(isKnown && i >= bin);
        }
        return isLeast || isMost;
    }

    /**
     * Learns a block.
     *
     * @param share of heat, the last half hour's, 0 to 1
     * @param away of each probe from the mean of all, the last half hour's, K
     * @param keeps the share of what was learned before that still counts, above 0 to 1
     */
    void learn(double share, Lag[] away, double keeps) {
        if (keeps < 1) {
            for (int bin = 0; bin < BINS; bin++) {
                weight[bin] *= keeps;
                shareSum[bin] *= keeps;
                for (int i = 0; i < count; i++) {
                    awaySum[bin][i] *= keeps;
                }
            }
        }
        int bin = bin(share);
        weight[bin]++;
        shareSum[bin] += share;
        for (int i = 0; i < count; i++) {
            awaySum[bin][i] += away[i].value();
        }
    }

    /** Draws the lines anew. */
    void fit() {
        double all = 0;
        double shares = 0;
        for (int bin = 0; bin < BINS; bin++) {
            all += weight[bin];
            shares += shareSum[bin];
        }
        if (all == 0) {
            return;
        }
        meanShare = shares / all;
        spread = RIDGE;
        for (int bin = 0; bin < BINS; bin++) {
            double from = fromMean(bin);
            spread += weight[bin] * from * from;
        }
        for (int i = 0; i < count; i++) {
            double sum = 0;
            double product = 0;
            for (int bin = 0; bin < BINS; bin++) {
                sum += awaySum[bin][i];
                product += fromMean(bin) * awaySum[bin][i];
            }
            slope[i] = product / spread;
            offset[i] = sum / all - slope[i] * meanShare;
        }
    }

    private double fromMean(int bin) {
        return weight[bin] == 0 ? 0 : shareSum[bin] / weight[bin] - meanShare;
    }

    /** Takes what a probe reads now as usual, at this deviation from before. */
    void shift(int probe, double kelvin) {
        offset[probe] += kelvin;
        for (int bin = 0; bin < BINS; bin++) {
            awaySum[bin][probe] += kelvin * weight[bin];
        }
    }

    /** Where a probe comes to rest from the mean of all, K. */
    double kelvin(int probe, double share) {
        return offset[probe] + slope[probe] * share;
    }

    /**
     * Standard deviation of the line at a share of heat, from how far that is from all that was
     * seen, K.
     *
     * @param scatterKelvin standard deviation of what the line does not explain
     */
    double unsureKelvin(double share, double scatterKelvin) {
        double scatter = Math.max(LEAST_SCATTER_KELVIN, scatterKelvin);
        // What the line is held level by, and what chance leaves of it.
        double held = USUAL_SLOPE_KELVIN * RIDGE / spread;
        double slopeError =
                Math.min(USUAL_SLOPE_KELVIN, held + scatter * Math.sqrt(BLOCKS_ALIKE / spread));
        return slopeError * Math.abs(share - meanShare);
    }

    /**
     * By how much a probe may be farther from the others than the line tells, because the line is
     * drawn out beyond all shares of heat that were seen, K: it bends there. 0 where such a share
     * was seen.
     */
    double bentKelvin(int probe, double share) {
        double most = 0;
        double least = 1;
        for (int bin = 0; bin < BINS; bin++) {
            if (weight[bin] >= ENOUGH_BLOCKS) {
                double seen = shareSum[bin] / weight[bin];
                most = Math.max(most, seen);
                least = Math.min(least, seen);
            }
        }
        double beyond = share > most ? share - most : Math.min(0, share - least);
        return BENT_SHARE * beyond * slope[probe];
    }

    /**
     * By how much top and middle may part farther than the line tells while it is young, K: beyond
     * the heat that was seen for two hours in all, as far as in any cabinet. In its first hours the
     * heat of a cabinet hardly varies, and goes with what walls and tubs still do.
     */
    double youngKelvin(double share) {
        double seenBelow = 0;
        double seenAbove = 0;
        for (int bin = 0; bin < BINS; bin++) {
            double from = bin * BIN_SHARE;
            seenBelow += from <= share ? weight[bin] : 0;
            seenAbove += from + BIN_SHARE > share ? weight[bin] : 0;
        }
        if (seenBelow >= KNOWN_BLOCKS && seenAbove >= KNOWN_BLOCKS) {
            return 0;
        }
        double beyond = seenAbove < seenBelow ? share - known(-1) : known(1) - share;
        return USUAL_SLOPE_KELVIN * Math.max(0, beyond);
    }

    /** The most (step -1) or the least (step 1) heat beyond which so much was seen, 0 to 1. */
    private double known(int step) {
        double seen = 0;
        int bin = step > 0 ? 0 : BINS - 1;
        while (seen + weight[bin] < KNOWN_BLOCKS && bin + step >= 0 && bin + step < BINS) {
            seen += weight[bin];
            bin += step;
        }
        return (bin + 0.5) * BIN_SHARE;
    }

    /** What is kept through a restart. */
    void learned(LearnedRows rows) {
        rows.numbers("weight", weight);
        rows.numbers("share", shareSum);
        double[] ofOne = new double[BINS];
        for (int i = 0; i < count; i++) {
            for (int bin = 0; bin < BINS; bin++) {
                ofOne[bin] = awaySum[bin][i];
            }
            rows.numbers("away-" + i, ofOne);
            for (int bin = 0; bin < BINS; bin++) {
                awaySum[bin][i] = ofOne[bin];
            }
        }
    }
}
