package io.evenwarm.agent.guard.health;

/**
 * A heater that is taken to give nothing, and yet holds the cabinet. Half the heat looks like none
 * when it goes, and like neither afterwards. But a cabinet whose set point is held for hours, and
 * not by full command, is heated.
 */
final class HoldingHeater {

    /** So many blocks, two hours, are not held without heat. */
    private static final int HOLDING_BLOCKS = 720;

    private static final double HOLDING_KELVIN = -0.3;

    /** With less heat the room may hold the cabinet, with more nothing does. */
    private static final double HOLDING_SHARE_LEAST = 0.03;

    private static final double HOLDING_SHARE_MOST = 0.9;

    private final CommandedHeat commanded = new CommandedHeat();
    private int heldBlocks;

    /**
     * Takes a block in.
     *
     * @param heatShare commanded, 0 to 1
     * @param offsetKelvin of the air from the set point
     * @param isInQuestion whether the heater is taken to give nothing, and nothing else moves the
     *     air
     * @return whether it has held the cabinet for long enough
     */
    boolean take(double heatShare, double offsetKelvin, boolean isInQuestion) {
        double share = commanded.step(heatShare);
        boolean isHeld =
                isInQuestion
                        && offsetKelvin > HOLDING_KELVIN
                        && share > HOLDING_SHARE_LEAST
                        && share < HOLDING_SHARE_MOST;
        heldBlocks = isHeld ? heldBlocks + 1 : 0;
        if (heldBlocks < HOLDING_BLOCKS) {
            return false;
        }
        heldBlocks = 0;
        return true;
    }

    /** Heat commanded lately at most, as {@link CommandedHeat#most}. */
    double most() {
        return commanded.most();
    }
}
