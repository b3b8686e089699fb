package io.evenwarm.quantity;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

final class QuantityTest {

    @ParameterizedTest
    @ValueSource(
            doubles = {
                Double.NaN,
                Double.POSITIVE_INFINITY,
                Double.NEGATIVE_INFINITY,
                -273.1500001,
                1000.0001
            })
    void aTemperatureThatCannotBeIsRefusedWithTheRange(double celsius) {
        IllegalArgumentException refusal =
                assertThrows(IllegalArgumentException.class, () -> Temperature.ofCelsius(celsius));
        assertEquals(
                "temperature must be -273.15 to 1000.0 °C but was " + celsius,
                refusal.getMessage());
    }

    @ParameterizedTest
    @ValueSource(doubles = {Double.NaN, -0.001, 1.001, Double.POSITIVE_INFINITY})
    void aDutyOutsideZeroToOneIsRefused(double fraction) {
        assertThrows(IllegalArgumentException.class, () -> Duty.ofFraction(fraction));
    }

    @ParameterizedTest
    @ValueSource(doubles = {Double.NaN, -0.001, 100.001, Double.NEGATIVE_INFINITY})
    void aHumidityOutsideZeroToHundredIsRefused(double percent) {
        assertThrows(IllegalArgumentException.class, () -> RelativeHumidity.ofPercent(percent));
    }

    @ParameterizedTest
    @ValueSource(doubles = {Double.NaN, Double.POSITIVE_INFINITY})
    void aDifferenceIsFinite(double kelvin) {
        assertThrows(IllegalArgumentException.class, () -> TemperatureDifference.ofKelvin(kelvin));
    }

    @Test
    void theEndsOfEachRangeAreInIt() {
        assertEquals(-273.15, Temperature.ofCelsius(Temperature.MIN_CELSIUS).celsius());
        assertEquals(1000, Temperature.ofCelsius(Temperature.MAX_CELSIUS).celsius());
        assertEquals(0, Duty.OFF.percent());
        assertEquals(100, Duty.ofFraction(1).percent());
        assertEquals(100, RelativeHumidity.ofPercent(100).percent());
    }

    @Test
    void differencesAddUp() {
        for (int seed = 0; seed < 500; seed++) {
            Random random = new Random(seed);
            Temperature a = Temperature.ofCelsius(random.nextDouble() * 100 - 20);
            Temperature b = Temperature.ofCelsius(random.nextDouble() * 100 - 20);
            assertEquals(a.celsius(), b.plus(a.minus(b)).celsius(), 1e-9, "seed " + seed);
            assertEquals(a.isAbove(b), b.isBelow(a), "seed " + seed);
            assertEquals(a.compareTo(b) > 0, a.minus(b).kelvin() > 0, "seed " + seed);
        }
        Temperature same = Temperature.ofCelsius(31.5);
        assertFalse(same.isAbove(same));
        assertFalse(same.isBelow(same));
    }

    /**
     * NIST SP 811, B.8: t/°F = 1.8 t/°C + 32. The fixed points of the scale: ice 32 °F, steam 212
     * °F; -40 is the same on both.
     */
    @ParameterizedTest(name = "NIST SP 811 B.8: {0} °C is {1} °F")
    @CsvSource({"0, 32", "100, 212", "-40, -40", "37, 98.6", "31.5, 88.7"})
    void temperaturesConvertToFahrenheitAndBack(double celsius, double fahrenheit) {
        assertEquals(fahrenheit, TemperatureUnit.FAHRENHEIT.fromCelsius(celsius), 1e-12);
        assertEquals(celsius, TemperatureUnit.FAHRENHEIT.toCelsius(fahrenheit), 1e-12);
        assertEquals(celsius, TemperatureUnit.CELSIUS.fromCelsius(celsius));
        assertEquals(celsius, TemperatureUnit.CELSIUS.toCelsius(celsius));
    }

    @Test
    void differencesConvertWithoutThe32() {
        assertEquals(1.8, TemperatureUnit.FAHRENHEIT.fromKelvin(1));
        assertEquals(0, TemperatureUnit.FAHRENHEIT.fromKelvin(0));
        assertEquals(1, TemperatureUnit.CELSIUS.fromKelvin(1));
    }

    @Test
    void gapsStayGaps() {
        assertTrue(Double.isNaN(TemperatureUnit.FAHRENHEIT.fromCelsius(Double.NaN)));
    }

    @Test
    void peopleSeeTheUnitBehindTheNumber() {
        Temperature warm = Temperature.ofCelsius(31.5);
        TemperatureDifference small = TemperatureDifference.ofKelvin(0.3);
        assertEquals("31.5 °C", TemperatureUnit.CELSIUS.format(warm, 1));
        assertEquals("88.70 °F", TemperatureUnit.FAHRENHEIT.format(warm, 2));
        assertEquals("0.30 K", TemperatureUnit.CELSIUS.format(small, 2));
        assertEquals("0.54 °F", TemperatureUnit.FAHRENHEIT.format(small, 2));
    }

    @Test
    void eachQuantityIsFoldedAsWhatItIs() {
        Quantity temperature = Temperature.ofCelsius(20);
        Quantity humidity = RelativeHumidity.ofPercent(80);
        assertEquals("t20.0", temperature.fold(t -> "t" + t.celsius(), h -> "h" + h.percent()));
        assertEquals("h80.0", humidity.fold(t -> "t" + t.celsius(), h -> "h" + h.percent()));
    }
}
