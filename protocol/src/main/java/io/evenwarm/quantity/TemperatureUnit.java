package io.evenwarm.quantity;

import java.util.Locale;

/**
 * The unit in which a person wants to see temperatures. For people only: files, stores and messages
 * are in Celsius by name.
 */
public enum TemperatureUnit {
    CELSIUS("°C", 1.0, 0.0),
    /** t/°F = 1.8 t/°C + 32 (NIST SP 811, B.8). */
    FAHRENHEIT("°F", 1.8, 32.0);

    private final String symbol;
    private final double scale;
    private final double offset;

    TemperatureUnit(String symbol, double scale, double offset) {
        this.symbol = symbol;
        this.scale = scale;
        this.offset = offset;
    }

    public String symbol() {
        return symbol;
    }

    /**
     * The value to show for a temperature given in Celsius; NaN stays NaN, so that gaps stay gaps.
     */
    public double fromCelsius(double celsius) {
        return celsius * scale + offset;
    }

    /** The Celsius value of a temperature that a person typed in this unit. */
    public double toCelsius(double shown) {
        return (shown - offset) / scale;
    }

    /**
     * The value to show for a difference given in kelvins: by 1.8 in Fahrenheit, without the 32.
     */
    public double fromKelvin(double kelvin) {
        return kelvin * scale;
    }

    /** For example {@code 31.5 °C}. */
    public String format(Temperature temperature, int decimals) {
        return String.format(
                Locale.ROOT, "%." + decimals + "f %s", fromCelsius(temperature.celsius()), symbol);
    }

    /**
     * For example {@code 0.30 K} or {@code 0.54 °F}: a difference in Celsius is shown in kelvins.
     */
    public String format(TemperatureDifference difference, int decimals) {
        return String.format(
                Locale.ROOT,
                "%." + decimals + "f %s",
                fromKelvin(difference.kelvin()),
                this == CELSIUS ? "K" : symbol);
    }
}
