package io.evenwarm.monitor.thermal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;

final class EggCurveTest {

    /** A fall of 6 K in an hour below 28 °C and back: the areas of triangles. */
    @Test
    void degreeHoursAreTheAreaBelowTheLimit() {
        double[] celsius = new double[121];
        for (int minute = 0; minute < celsius.length; minute++) {
            celsius[minute] = 28 - 6 * (1 - Math.abs(minute - 60) / 60.0);
        }
        EggCurve curve = new EggCurve(0, celsius, new double[celsius.length]);
        assertEquals(60, curve.coldest());
        assertEquals(3_600_000, curve.epochMillis(curve.coldest()));
        assertEquals(6, curve.degreeHoursBelow(28), 0.01);
        assertEquals(1.5, curve.degreeHoursBelow(25), 0.01);
        assertEquals(1, curve.hoursBelow(25), 0.03);
        assertEquals(0, curve.hoursBelow(22), 0);
    }

    @Test
    void aGapThatEndsBeforeItBeginsIsRefused() {
        assertThrows(IllegalArgumentException.class, () -> new Gap(2000, 2000, 4));
        assertThrows(IllegalArgumentException.class, () -> new Gap(1000, 2000, -1));
    }

    @Test
    void helpThatComesBeforeItIsNeededIsRefused() {
        assertThrows(
                IllegalArgumentException.class,
                () ->
                        new Scenario(
                                Scenario.Heating.OFF,
                                false,
                                OptionalDouble.empty(),
                                3600,
                                OptionalDouble.of(1800)));
    }
}
