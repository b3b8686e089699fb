package io.evenwarm.quantity;

import java.util.Locale;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Sentences with temperatures in them. Pure. */
public final class TemperatureWords {

    private static final Pattern CELSIUS = Pattern.compile("([-−]?\\d+(?:\\.(\\d+))?)(\\s?)°C");
    private static final Pattern KELVIN = Pattern.compile("([-−]?\\d+(?:\\.(\\d+))?)(\\s)K\\b");

    private TemperatureWords() {}

    /**
     * What a program wrote in Celsius and kelvins, in the unit that a person chose, to as many
     * places. Only numbers with {@code °C} or {@code K} behind them are changed.
     */
    public static String inUnit(String words, TemperatureUnit unit) {
        if (unit == TemperatureUnit.CELSIUS) {
            return words;
        }
        String temperatures =
                CELSIUS.matcher(words)
                        .replaceAll(
                                match ->
                                        number(match.group(1), match.group(2), unit, true)
                                                + Matcher.quoteReplacement(
                                                        match.group(3) + unit.symbol()));
        return KELVIN.matcher(temperatures)
                .replaceAll(
                        match ->
                                number(match.group(1), match.group(2), unit, false)
                                        + Matcher.quoteReplacement(match.group(3) + unit.symbol()));
    }

    private static String number(
            String digits, String decimals, TemperatureUnit unit, boolean isTemperature) {
        double value = Double.parseDouble(digits.replace('−', '-'));
        double shown = isTemperature ? unit.fromCelsius(value) : unit.fromKelvin(value);
        int places = decimals == null ? 0 : decimals.length();
        return String.format(Locale.ROOT, "%." + places + "f", shown);
    }
}
