package io.evenwarm.monitor.thermal;

/**
 * The constants of a cabinet, all over its heat loss with a running fan, so that they are known
 * without knowing a watt: a power in K is what it warms the cabinet above its room at last, a heat
 * capacity in s is the time constant that it would have alone.
 *
 * @param fullHeatKelvin the heater, always on; more than 0
 * @param fanKelvin the fan's own heat
 * @param airSeconds capacity of the air and of what follows it at once (shelves, tubs' plastic)
 * @param wallSeconds capacity of the walls' inner part
 * @param eggSeconds capacity of what is in the tubs
 * @param eggLagSeconds how slowly that follows the air, fan running
 * @param stillWallShare how much of the air's hold on the walls is left while the fan stands still
 * @param stillEggShare the same for the tubs
 */
public record NetworkConstants(
        double fullHeatKelvin,
        double fanKelvin,
        double airSeconds,
        double wallSeconds,
        double eggSeconds,
        double eggLagSeconds,
        double stillWallShare,
        double stillEggShare) {

    public NetworkConstants {
        require("full heat", fullHeatKelvin);
        require("air", airSeconds);
        require("wall", wallSeconds);
        require("eggs", eggSeconds);
        require("eggs' lag", eggLagSeconds);
        require("still wall", stillWallShare);
        require("still eggs", stillEggShare);
    }

    private static void require(String what, double value) {
        if (!(value > 0 && Double.isFinite(value))) {
            throw new IllegalArgumentException(what + " must be more than 0 but was " + value);
        }
    }
}
