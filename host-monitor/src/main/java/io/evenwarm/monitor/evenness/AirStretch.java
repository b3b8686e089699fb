package io.evenwarm.monitor.evenness;

/**
 * Ten minutes of a cabinet's air, as means.
 *
 * @param beginMillis milliseconds since the epoch
 * @param topCelsius of the probes at the top
 * @param bottomCelsius of those at the bottom
 * @param duty share of the time that the heater was on, 0 to 1
 * @param offKelvin how far the mean of the air was above the set point
 */
public record AirStretch(
        long beginMillis, double topCelsius, double bottomCelsius, double duty, double offKelvin) {

    public static final long LENGTH_MILLIS = 600_000;

    public AirStretch {
        if (!Double.isFinite(topCelsius + bottomCelsius + offKelvin) || !(duty >= 0 && duty <= 1)) {
            throw new IllegalArgumentException(
                    "a stretch needs its figures but had "
                            + topCelsius
                            + ", "
                            + bottomCelsius
                            + ", "
                            + duty
                            + ", "
                            + offKelvin);
        }
    }

    double partingKelvin() {
        return topCelsius - bottomCelsius;
    }
}
