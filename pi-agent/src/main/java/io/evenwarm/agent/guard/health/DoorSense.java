package io.evenwarm.agent.guard.health;

/**
 * Feels an open door in the air: all of it falls faster than the loss of all heat could make it,
 * and stays down. When the door is shut again the warm walls bring the air back within a minute or
 * two, which no heater does.
 *
 * <p>In the trade (common practice, no source) a keeper who opens a cabinet for less than a minute
 * sees the thermometer dip and come back.
 */
final class DoorSense {

    private static final int RING = 6;

    /** No fall within a minute that is smaller than this opens a door. */
    private static final double LEAST_FALL_KELVIN = 0.3;

    /** Nor one within so many standard deviations of what a minute usually brings. */
    private static final double FALL_DEVIATIONS = 6;

    /** Each probe must have fallen by this share of the middle one's fall. */
    private static final double LEAST_SHARE = 0.4;

    /** Back by this share of the fall: it is shut. */
    private static final double RECOVERED_SHARE = 0.4;

    /** Up by this share of the fall within a minute: it was shut just now. */
    private static final double JUMP_SHARE = 0.2;

    private static final double LEAST_JUMP_KELVIN = 0.25;
    private static final double MEMORY_BLOCKS = 4320;
    private static final double FIRST_DEVIATION_KELVIN = 0.04;

    private final int probeCount;
    private final double[][] celsius = new double[RING][];
    private final double[] rest = new double[RING];
    private int blocks;
    private double squares = FIRST_DEVIATION_KELVIN * FIRST_DEVIATION_KELVIN;
    private boolean isOpen;
    private int openBlocks;
    private double beforeKelvin;
    private double lowest;
    private int shutBlocks = Integer.MAX_VALUE / 2;

    DoorSense(int probeCount) {
        this.probeCount = probeCount;
        for (int i = 0; i < RING; i++) {
            celsius[i] = new double[probeCount];
        }
    }

    /**
     * Takes a block in.
     *
     * @param block the probes
     * @param isTrusted which of them count
     * @param restCelsius the air less what the heater gives it
     * @param heatKelvin what the heater gives it now
     * @param heaterLagSeconds how fast that could go
     */
    void take(
            BlockMeans block,
            boolean[] isTrusted,
            double restCelsius,
            double heatKelvin,
            double heaterLagSeconds) {
        int slot = blocks % RING;
        boolean isFull = blocks >= RING;
        double change = isFull ? restCelsius - rest[slot] : 0;
        double couldFall = heatKelvin * RING * BlockMeans.SECONDS / heaterLagSeconds;
        double deviation = Math.sqrt(squares);
        if (isOpen) {
            whileOpen(restCelsius, change);
        } else {
            shutBlocks = Math.min(shutBlocks + 1, Integer.MAX_VALUE / 2);
            double least = Math.max(LEAST_FALL_KELVIN, FALL_DEVIATIONS * deviation) + couldFall;
            if (isFull && change < -least && haveAllFallen(block, isTrusted, slot, -change)) {
                isOpen = true;
                openBlocks = 0;
                beforeKelvin = rest[slot];
                lowest = restCelsius;
            } else if (isFull && shutBlocks > 180) {
                double weight = 1 / MEMORY_BLOCKS;
                squares += weight * (change * change - squares);
            }
        }
        rest[slot] = restCelsius;
        for (int i = 0; i < probeCount; i++) {
            celsius[slot][i] = block.celsius(i);
        }
        blocks++;
        if (blocks > 1_000_000) {
            blocks = blocks % RING + RING;
        }
    }

    private void whileOpen(double restCelsius, double change) {
        openBlocks++;
        lowest = Math.min(lowest, restCelsius);
        double fall = beforeKelvin - lowest;
        boolean isBack = restCelsius - lowest > RECOVERED_SHARE * fall;
        boolean hasJumped = change > Math.max(LEAST_JUMP_KELVIN, JUMP_SHARE * fall);
        if (isBack || (openBlocks > RING && hasJumped)) {
            isOpen = false;
            shutBlocks = 0;
        }
    }

    private boolean haveAllFallen(BlockMeans block, boolean[] isTrusted, int slot, double fall) {
        for (int i = 0; i < probeCount; i++) {
            if (isTrusted[i] && celsius[slot][i] - block.celsius(i) < LEAST_SHARE * fall) {
                return false;
            }
        }
        return true;
    }

    /** It is known to be attended to: whatever was felt before no longer counts. */
    void shut() {
        isOpen = false;
        shutBlocks = 0;
        blocks = 0;
    }

    /** What it is told of the air's rest has another meaning from here on. */
    void restart() {
        blocks = 0;
    }

    boolean isOpen() {
        return isOpen;
    }

    /** For how long it has been open, s; 0 when it is not. */
    double openSeconds() {
        return isOpen ? (openBlocks + RING / 2.0) * BlockMeans.SECONDS : 0;
    }

    /** How far the air has fallen, K; only while open. */
    double fallKelvin() {
        return beforeKelvin - lowest;
    }

    /** Since it was last open, s. */
    double shutSeconds() {
        return isOpen ? 0 : (double) shutBlocks * BlockMeans.SECONDS;
    }

    /** What is kept through a restart. */
    void learned(LearnedRows rows) {
        squares = rows.number("squares", squares);
    }
}
