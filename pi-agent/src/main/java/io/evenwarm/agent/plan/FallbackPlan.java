package io.evenwarm.agent.plan;

/**
 * What the keeper allows while no probe tells anything of the air: heat at a fixed duty, so that
 * the eggs do not go as cold as the room. Guard bounds it by what the cabinet could get to.
 *
 * @param duty share of the time in which the heater is on, above 0 to 1
 * @param heaterWatts the heater's rated power, W, above 0
 * @param heatLossWattsPerKelvin what the walls let through, W/K, above 0: measured, or computed on
 *     the low side
 * @param warmestRoomCelsius how warm the room gets at most, °C; counts where no probe reads the
 *     room
 */
public record FallbackPlan(
        double duty, double heaterWatts, double heatLossWattsPerKelvin, double warmestRoomCelsius) {

    public FallbackPlan {
        if (!(duty > 0 && duty <= 1)) {
            throw new IllegalArgumentException("duty must be above 0 to 1 but was " + duty);
        }
        if (!(heaterWatts > 0 && heatLossWattsPerKelvin > 0)) {
            throw new IllegalArgumentException("heater power and heat loss must be above 0");
        }
    }

    /** The most that the duty may be for the steady temperature to stay at a limit; 0 to 1. */
    public double mostDuty(double limitCelsius, double roomCelsius) {
        double most = (limitCelsius - roomCelsius) * heatLossWattsPerKelvin / heaterWatts;
        return Math.max(0, Math.min(1, most));
    }
}
