package io.evenwarm.quantity;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;

final class TemperatureWordsTest {

    /** t/°F = 1.8 t/°C + 32; a difference by 1.8 alone (NIST SP 811, B.8). */
    @Test
    void aProgramsWordsAreToldInTheUnitOfThePerson() {
        String words = "top reads 32.6 °C, 1.1 K above 31.5 °C; the room is at -5 °C.";
        assertEquals(words, TemperatureWords.inUnit(words, TemperatureUnit.CELSIUS));
        assertEquals(
                "top reads 90.7 °F, 2.0 °F above 88.7 °F; the room is at 23 °F.",
                TemperatureWords.inUnit(words, TemperatureUnit.FAHRENHEIT));
    }
}
