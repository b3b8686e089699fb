package io.evenwarm.quantity;

/**
 * A difference between two temperatures. Converts to Fahrenheit degrees by 1.8, without the 32.
 *
 * @param kelvin kelvins, finite
 */
public record TemperatureDifference(double kelvin) implements Comparable<TemperatureDifference> {

    public TemperatureDifference {
        if (!Double.isFinite(kelvin)) {
            throw new IllegalArgumentException(
                    "temperature difference must be finite but was " + kelvin);
        }
    }

    public static TemperatureDifference ofKelvin(double kelvin) {
        return new TemperatureDifference(kelvin);
    }

    @Override
    public int compareTo(TemperatureDifference other) {
        return Double.compare(kelvin, other.kelvin);
    }
}
