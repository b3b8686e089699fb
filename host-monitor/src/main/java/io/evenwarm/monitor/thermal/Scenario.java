package io.evenwarm.monitor.thermal;

import java.util.OptionalDouble;

/**
 * What goes on from now.
 *
 * @param heating of the cabinet
 * @param isFanOn whether the fan runs
 * @param roomCelsius the room from now on; empty for as it is now
 * @param heldSeconds before that, everything goes on as it was: a battery's time; 0 or more
 * @param helpSeconds from then on, counted from now, the heater is on again with the fan: a
 *     generator; empty for never
 */
public record Scenario(
        Heating heating,
        boolean isFanOn,
        OptionalDouble roomCelsius,
        double heldSeconds,
        OptionalDouble helpSeconds) {

    /** What the heater does. */
    public enum Heating {
        OFF,
        /** On all the time. */
        STUCK_ON
    }

    public Scenario {
        if (!(heldSeconds >= 0 && heldSeconds <= 30 * 86_400.0)) {
            throw new IllegalArgumentException(
                    "what holds must hold for 0 to 30 days but was " + heldSeconds + " s");
        }
        if (roomCelsius.isPresent()
                && !(roomCelsius.getAsDouble() >= -40 && roomCelsius.getAsDouble() <= 60)) {
            throw new IllegalArgumentException(
                    "the room must be -40 to 60 °C but was " + roomCelsius.getAsDouble());
        }
        if (helpSeconds.isPresent() && !(helpSeconds.getAsDouble() >= heldSeconds)) {
            throw new IllegalArgumentException(
                    "help must not come before what holds is over, but after "
                            + helpSeconds.getAsDouble()
                            + " s");
        }
    }

    /** The heater as given while the fan runs on, in the room as it is. */
    public static Scenario running(Heating heating) {
        return new Scenario(heating, true, OptionalDouble.empty(), 0, OptionalDouble.empty());
    }

    /** Neither heat nor fan, in the room as it is. */
    public static Scenario mainsOff() {
        return new Scenario(Heating.OFF, false, OptionalDouble.empty(), 0, OptionalDouble.empty());
    }
}
