package io.evenwarm.quantity;

import java.util.function.Function;

/**
 * A temperature.
 *
 * @param celsius degrees Celsius, {@value #MIN_CELSIUS} to {@value #MAX_CELSIUS}
 */
public record Temperature(double celsius) implements Quantity, Comparable<Temperature> {

    /** Absolute zero (BIPM SI brochure, 9th edition, 2.3.1: t/°C = T/K − 273.15). */
    public static final double MIN_CELSIUS = -273.15;

    /** Above anything that a cabinet's probe can report. */
    public static final double MAX_CELSIUS = 1000.0;

    public Temperature {
        if (!(celsius >= MIN_CELSIUS && celsius <= MAX_CELSIUS)) {
            throw new IllegalArgumentException(
                    "temperature must be "
                            + MIN_CELSIUS
                            + " to "
                            + MAX_CELSIUS
                            + " °C but was "
                            + celsius);
        }
    }

    public static Temperature ofCelsius(double celsius) {
        return new Temperature(celsius);
    }

    /** The difference {@code this − other}. */
    public TemperatureDifference minus(Temperature other) {
        return new TemperatureDifference(celsius - other.celsius);
    }

    public Temperature plus(TemperatureDifference difference) {
        return new Temperature(celsius + difference.kelvin());
    }

    public boolean isAbove(Temperature other) {
        return celsius > other.celsius;
    }

    public boolean isBelow(Temperature other) {
        return celsius < other.celsius;
    }

    @Override
    public <R> R fold(
            Function<Temperature, R> temperature, Function<RelativeHumidity, R> humidity) {
        return temperature.apply(this);
    }

    @Override
    public int compareTo(Temperature other) {
        return Double.compare(celsius, other.celsius);
    }
}
