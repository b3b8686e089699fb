package io.evenwarm.quantity;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Optional;
import org.junit.jupiter.api.Test;

/** Constants of WMO-No. 8, Annex 4.B; the values are computed from its formula. */
final class DewPointTest {

    @Test
    void saturationFollowsTheMagnusFormulaOfWmo8() {
        double[][] points = {
            {20, 23.3260},
            {25, 31.6006},
            {30, 42.3372},
            {31.5, 46.1242},
            {32, 47.4505},
            {35, 56.1284},
            {50, 123.4516}
        };
        for (double[] point : points) {
            assertEquals(point[1], DewPoint.saturationHectopascal(point[0]), 1e-4 * point[1]);
        }
    }

    @Test
    void theDewPointIsItsInverse() {
        double[][] points = {
            {20, 50, 9.255}, {20, 80, 16.442}, {25, 60, 16.693}, {30, 80, 26.169},
            {31.5, 90, 29.658}, {31.5, 95, 30.600}, {32, 85, 29.158}, {31.5, 100, 31.5}
        };
        for (double[] point : points) {
            assertEquals(point[2], dew(point[0], point[1]).orElseThrow().celsius(), 0.001);
        }
    }

    @Test
    void dryAirAndAirOutsideTheFormulasRangeHaveNone() {
        assertEquals(Optional.empty(), dew(31.5, 0));
        assertEquals(Optional.empty(), dew(80, 50));
    }

    private static Optional<Temperature> dew(double celsius, double percent) {
        return DewPoint.of(new Temperature(celsius), new RelativeHumidity(percent));
    }
}
