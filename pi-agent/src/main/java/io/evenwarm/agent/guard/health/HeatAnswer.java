package io.evenwarm.agent.guard.health;

/**
 * Whether the air still answers to the relay's own cycle, in the blocks that speak for a heater
 * that gives nothing. A room that gets cold fast makes the air sink although it is heated more and
 * more, as if no heat came; but each time on of the heater then shows in the air all the same.
 */
final class HeatAnswer {

    /** What heat does not explain keeps its direction for about this many blocks. */
    private static final double BLOCKS_ALIKE = 6;

    /** So much of the learned answer must be there, for sure by so many standard errors. */
    private static final double LEAST_SHARE = 0.3;

    private static final double ERRORS = 2;

    private int blocks;
    private double share;
    private double kelvin;
    private double shareShare;
    private double shareKelvin;

    /** Nothing speaks for a heater that gives nothing: from here on it may begin. */
    void restart() {
        blocks = 0;
        share = 0;
        kelvin = 0;
        shareShare = 0;
        shareKelvin = 0;
    }

    /** Takes a block in. */
    void take(HeatResponse response) {
        double heat = response.fastShare();
        double air = response.fastKelvin();
        blocks++;
        share += heat;
        kelvin += air;
        shareShare += heat * heat;
        shareKelvin += heat * air;
    }

    /** Whether heat comes for sure. Slow movement of air and heat says nothing here. */
    boolean isClear(HeatResponse response) {
        if (blocks == 0) {
            return false;
        }
        double squares = shareShare - share * share / blocks;
        double products = shareKelvin - share * kelvin / blocks;
        double error = response.scatterKelvin() * Math.sqrt(BLOCKS_ALIKE * squares);
        return products - ERRORS * error > LEAST_SHARE * response.kelvin() * squares;
    }
}
