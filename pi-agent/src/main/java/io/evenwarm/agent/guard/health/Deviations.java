package io.evenwarm.agent.guard.health;

/**
 * How far deviations usually go: their root mean square in the first day while all was sound. Kept
 * from then on, so that what grows slowly is not taken for usual.
 */
final class Deviations {

    private static final double MOST_BLOCKS = 8640;

    private static final double FIRST_BLOCKS = 360;

    /** Beyond three standard deviations something else is at work, and is not learned. */
    private static final double OUTLIER_SQUARES = 9;

    private double squares;
    private double blocks;

    /** Takes a block's deviations in, K; with a NaN among them they count for nothing. */
    void take(double[] kelvin) {
        double largest = 0;
        for (double value : kelvin) {
            if (Double.isNaN(value)) {
                return;
            }
            largest = Math.max(largest, value * value);
        }
        if (blocks >= MOST_BLOCKS
                || (blocks > FIRST_BLOCKS && largest > OUTLIER_SQUARES * squares)) {
            return;
        }
        blocks++;
        squares += (largest - squares) / blocks;
    }

    /** Root mean square of the largest of the probes', K. */
    double kelvin() {
        return Math.sqrt(squares);
    }

    /** What is kept through a restart. */
    void learned(LearnedRows rows) {
        squares = rows.number("squares", squares);
        blocks = rows.number("blocks", blocks);
    }
}
