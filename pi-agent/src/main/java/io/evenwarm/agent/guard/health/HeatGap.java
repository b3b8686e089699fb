package io.evenwarm.agent.guard.health;

/**
 * A time in which the heater gave nothing though commanded, and then heated again. When the air
 * parted meanwhile, warm above and cold below, the fan had stopped with it: then the mains were
 * gone, and no fault of the heater's.
 */
final class HeatGap {

    /** So far top and bottom part in still air that nothing heats, at the least. */
    private static final double PARTED_KELVIN = 0.04;

    /** What lasts shorter was a look inside. */
    private static final int LEAST_BLOCKS = 12;

    /** What is left of that once the fan turns again. */
    private static final double MIXED_SHARE = 0.5;

    /** Together for so long: the fan does turn. */
    private static final int MIXED_BLOCKS = 18;

    /** A fan that turns again has mixed the air by then. */
    private static final int LONGEST_BLOCKS = 360;

    private boolean wasGone;
    private int goneBlocks;
    private double mostKelvin;
    private double beforeKelvin;
    private int sinceBlocks = Integer.MAX_VALUE / 2;
    private int mixedBlocks;
    private boolean isMainsReturned;

    /**
     * Takes a block in.
     *
     * @param isGone whether the heater is taken to give nothing
     * @param partingKelvin how far top and bottom part beyond what the heat explains; −∞ while that
     *     says nothing of the fan
     * @param slowPartingKelvin the same over the last hour or two
     */
    void take(boolean isGone, double partingKelvin, double slowPartingKelvin) {
        isMainsReturned = false;
        if (isGone && !wasGone) {
            beforeKelvin = slowPartingKelvin;
        }
        double parted = partingKelvin - beforeKelvin;
        if (isGone) {
            goneBlocks = wasGone ? goneBlocks + 1 : 1;
            mostKelvin = wasGone ? Math.max(mostKelvin, parted) : parted;
            sinceBlocks = Integer.MAX_VALUE / 2;
        } else if (wasGone) {
            sinceBlocks = 0;
            mixedBlocks = 0;
        } else {
            sinceBlocks = Math.min(sinceBlocks + 1, Integer.MAX_VALUE / 2);
            look(parted);
        }
        wasGone = isGone;
    }

    private void look(double parted) {
        if (sinceBlocks > LONGEST_BLOCKS
                || goneBlocks < LEAST_BLOCKS
                || mostKelvin < PARTED_KELVIN) {
            return;
        }
        mixedBlocks = parted < MIXED_SHARE * mostKelvin ? mixedBlocks + 1 : 0;
        if (mixedBlocks == MIXED_BLOCKS) {
            isMainsReturned = true;
            mostKelvin = 0;
        }
    }

    /** There was no gap after all. */
    void restart() {
        wasGone = false;
        goneBlocks = 0;
        mostKelvin = 0;
        sinceBlocks = Integer.MAX_VALUE / 2;
    }

    /** Whether it shows in this block that the mains were gone and are back. */
    boolean isMainsReturned() {
        return isMainsReturned;
    }

    /** For how long the heater gave nothing, the last time, s. */
    double seconds() {
        return (double) goneBlocks * BlockMeans.SECONDS;
    }

    /** How long ago it was taken to heat again, s; very long when it never gave nothing. */
    double sinceSeconds() {
        return (double) sinceBlocks * BlockMeans.SECONDS;
    }
}
