package io.evenwarm.agent.guard.health;

/**
 * Heater rules that need nothing learned, for the first hours and as a backstop later: warming for
 * long without any command for heat, or cooling for long at full command.
 */
final class PlainRules {

    private static final int RING_BLOCKS = 120;
    private static final double SHARE_SECONDS = 300;
    private static final double NO_HEAT_SHARE = 0.03;
    private static final double FULL_HEAT_SHARE = 0.97;

    /** Ten minutes after the last heat, the heater's own warmth has gone into the air. */
    private static final int SETTLED_BLOCKS = 60;

    private static final double WARM_OFFSET_KELVIN = 0.4;
    private static final double WARMING_KELVIN = 0.3;
    private static final double COLD_OFFSET_KELVIN = -0.5;
    private static final double COOLING_KELVIN = -0.15;

    private final Lag share = new Lag(SHARE_SECONDS);
    private final double[] ring = new double[RING_BLOCKS];
    private int blocks;
    private int withoutHeat;
    private int fullHeat;
    private boolean isWarming;
    private boolean isCooling;

    /**
     * Takes a block in.
     *
     * @param heatShare for which the heater was commanded on in it, 0 to 1
     * @param celsius of the air
     * @param setPointCelsius in force
     */
    void take(double heatShare, double celsius, double setPointCelsius) {
        double recent = share.step(heatShare);
        withoutHeat = recent < NO_HEAT_SHARE ? withoutHeat + 1 : 0;
        fullHeat = recent > FULL_HEAT_SHARE ? fullHeat + 1 : 0;
        int slot = blocks % RING_BLOCKS;
        double before20Minutes = ring[slot];
        double warmestBefore10Minutes = warmestOfOlderHalf(slot);
        ring[slot] = celsius;
        blocks =
                blocks + 1 >= 2 * RING_BLOCKS
                        ? RING_BLOCKS + (blocks + 1) % RING_BLOCKS
                        : blocks + 1;
        double offset = celsius - setPointCelsius;
        isWarming =
                withoutHeat > SETTLED_BLOCKS + RING_BLOCKS / 2
                        && offset > WARM_OFFSET_KELVIN
                        && celsius - warmestBefore10Minutes > WARMING_KELVIN;
        isCooling =
                fullHeat > RING_BLOCKS
                        && offset < COLD_OFFSET_KELVIN
                        && celsius - before20Minutes < COOLING_KELVIN;
    }

    /** Air that only comes back to where it was before a look inside is not warmed by a heater. */
    private double warmestOfOlderHalf(int slot) {
        double warmest = ring[slot];
        for (int i = 1; i <= RING_BLOCKS / 2; i++) {
            warmest = Math.max(warmest, ring[(slot + i) % RING_BLOCKS]);
        }
        return warmest;
    }

    /**
     * Takes a block in which something else moved the air: what came before no longer counts. The
     * command is known all the same, so that heat that was asked for meanwhile need not be asked
     * for anew.
     */
    void pass(double heatShare) {
        share.step(heatShare);
        withoutHeat = 0;
        fullHeat = 0;
        isWarming = false;
        isCooling = false;
    }

    boolean isWarmingWithoutHeat() {
        return isWarming;
    }

    boolean isCoolingAtFullHeat() {
        return isCooling;
    }
}
