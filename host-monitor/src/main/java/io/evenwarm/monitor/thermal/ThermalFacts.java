package io.evenwarm.monitor.thermal;

import java.util.OptionalDouble;

/**
 * What is known of a cabinet beside its readings.
 *
 * @param loadKilograms of all tubs with what is in them, as the list of tubs says
 * @param statedWatts what is written on the heater
 * @param measuredWatts what a meter showed while the heater was on
 */
public record ThermalFacts(
        OptionalDouble loadKilograms, OptionalDouble statedWatts, OptionalDouble measuredWatts) {

    public static final ThermalFacts NONE =
            new ThermalFacts(
                    OptionalDouble.empty(), OptionalDouble.empty(), OptionalDouble.empty());

    public ThermalFacts {
        require("the load", loadKilograms, 10_000, "kg");
        require("the stated power", statedWatts, 100_000, "W");
        require("the measured power", measuredWatts, 100_000, "W");
    }

    private static void require(String what, OptionalDouble value, double most, String unit) {
        if (value.isPresent() && !(value.getAsDouble() > 0 && value.getAsDouble() <= most)) {
            throw new IllegalArgumentException(
                    what
                            + " must be more than 0 and at most "
                            + most
                            + " "
                            + unit
                            + " but was "
                            + value.getAsDouble());
        }
    }

    /** The best there is of the heater's power. */
    OptionalDouble watts() {
        return measuredWatts.isPresent() ? measuredWatts : statedWatts;
    }
}
