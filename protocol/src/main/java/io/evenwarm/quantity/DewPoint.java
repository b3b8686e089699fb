package io.evenwarm.quantity;

import java.util.Optional;

/**
 * Where the moisture of the air would condense.
 *
 * <p>By the Magnus formula over water with the constants of WMO-No. 8, Annex 4.B: ew = 6.112
 * exp(17.62 t / (243.12 + t)) hPa, and its inverse.
 */
public final class DewPoint {

    private static final double HECTOPASCAL_AT_ZERO = 6.112;
    private static final double FACTOR = 17.62;
    private static final double OFFSET_CELSIUS = 243.12;

    /** Drier air has no dew point that the formula was made for. */
    private static final double DRIEST_PERCENT = 0.5;

    private DewPoint() {}

    /** Pressure of saturated vapour, hPa. */
    public static double saturationHectopascal(double celsius) {
        return HECTOPASCAL_AT_ZERO * StrictMath.exp(FACTOR * celsius / (OFFSET_CELSIUS + celsius));
    }

    /**
     * The dew point.
     *
     * @param air its temperature, −45 to 60 °C
     * @param humidity in the same place
     * @return empty outside the formula's range
     */
    public static Optional<Temperature> of(Temperature air, RelativeHumidity humidity) {
        if (humidity.percent() < DRIEST_PERCENT || air.celsius() < -45 || air.celsius() > 60) {
            return Optional.empty();
        }
        double vapour = saturationHectopascal(air.celsius()) * humidity.percent() / 100;
        double log = StrictMath.log(vapour / HECTOPASCAL_AT_ZERO);
        return Optional.of(new Temperature(OFFSET_CELSIUS * log / (FACTOR - log)));
    }
}
