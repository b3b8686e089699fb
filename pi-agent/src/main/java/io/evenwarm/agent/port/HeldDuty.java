package io.evenwarm.agent.port;

import java.time.Instant;

/**
 * The duty that held a cabinet at its set point, and when.
 *
 * @param duty share of full heat, 0 to 1
 * @param setPointCelsius the set point that it held, °C
 * @param wall when it did, by the wall clock
 * @param isWallTrusted whether that clock was trusted then
 */
public record HeldDuty(double duty, double setPointCelsius, Instant wall, boolean isWallTrusted) {

    /**
     * @throws IllegalArgumentException when the duty is not 0 to 1, or the set point not finite
     */
    public HeldDuty {
        if (!(duty >= 0 && duty <= 1) || !Double.isFinite(setPointCelsius)) {
            throw new IllegalArgumentException(
                    "expected a duty of 0 to 1 and a set point in °C but found "
                            + duty
                            + " and "
                            + setPointCelsius);
        }
    }
}
