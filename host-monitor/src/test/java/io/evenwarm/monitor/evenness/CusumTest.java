package io.evenwarm.monitor.evenness;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Random;
import org.junit.jupiter.api.Test;

final class CusumTest {

    private static final double NO_CAP = Double.POSITIVE_INFINITY;

    private static void assertAverage(
            double published, double tolerance, double k, double h, double shift) {
        double average = new CusumRunLength(k, NO_CAP).average(h, shift);
        assertEquals(
                published, average, tolerance * published, "k " + k + ", h " + h + ", " + shift);
    }

    /**
     * Brook and Evans (1972), 4.3; Waldmann (1986), tables 1, 3 and 5; Vance (1986), table 1; as
     * quoted in the manual of the R package spc, xcusum.arl.
     */
    @Test
    void runLengthsOfOneSidedChartsAreThePublishedOnes() {
        assertAverage(117.59, 0.002, 0.5, 3, 0);
        assertAverage(3.75, 0.003, 0.5, 3, 1.5);
        assertAverage(1963, 0.003, 0.5, 3, -0.5);
        assertAverage(17.35, 0.002, 0.5, 3, 0.5);
        assertAverage(124.66, 0.002, 0, 10, 0);
        assertAverage(36.71, 0.002, 0, 10, 0.25);
        assertAverage(10.75, 0.002, 0, 10, 1);
    }

    /** Either chart calls: the run lengths' inverses add (Kemp 1961, from memory). */
    private static double twoSided(double k, double h, double shift) {
        CusumRunLength length = new CusumRunLength(k, NO_CAP);
        // Beyond, the other side's is longer than the linear system can tell from never.
        double other = shift > 0.5 ? Double.POSITIVE_INFINITY : length.average(h, -shift);
        return 1 / (1 / length.average(h, shift) + 1 / other);
    }

    /**
     * h = 4: Lucas and Crosier (1982), table 1, as quoted in the manual of the R package spc. h =
     * 5: NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.3, table for k = 0.5, from memory;
     * 930 there is the one-sided chart's, twice the 465 here.
     */
    @Test
    void runLengthsOfTwoSidedChartsAreThePublishedOnes() {
        double[] shifts = {0, 0.25, 0.5, 0.75, 1, 1.5, 2, 2.5, 3};
        double[] four = {168, 74.2, 26.6, 13.3, 8.38, 4.75, 3.34, 2.62, 2.19};
        double[] five = {465, 139, 38.0, 17.0, 10.4, 5.75, 4.01, 3.11, 2.57};
        for (int i = 0; i < shifts.length; i++) {
            assertEquals(four[i], twoSided(0.5, 4, shifts[i]), 0.006 * four[i], "4, " + shifts[i]);
            assertEquals(five[i], twoSided(0.5, 5, shifts[i]), 0.006 * five[i], "5, " + shifts[i]);
        }
        assertAverage(930, 0.01, 0.5, 5, 0);
    }

    @Test
    void theChartCallsAsOftenAsItsRunLengthSays() {
        Random random = new Random(3);
        for (double cap : new double[] {NO_CAP, 1.5}) {
            double told = new CusumRunLength(0.5, cap).average(3, 0.25);
            double steps = 0;
            int runs = 20_000;
            for (int run = 0; run < runs; run++) {
                Cusum chart = new Cusum(0.5, cap, 3);
                do {
                    steps++;
                } while (!chart.add(0.25 + random.nextGaussian()));
            }
            // A run length's standard deviation is about its mean: 0.7 % of chance.
            assertEquals(told, steps / runs, 0.03 * told, "cap " + cap);
        }
    }

    @Test
    void theIntervalHasTheRunLengthThatWasAskedFor() {
        CusumRunLength length = new CusumRunLength(1, 2.5);
        for (double wanted : new double[] {370, 36_525}) {
            assertEquals(wanted, length.average(length.interval(wanted), 0), 0.01 * wanted);
        }
        assertThrows(IllegalArgumentException.class, () -> length.interval(0.5));
        assertThrows(IllegalArgumentException.class, () -> length.interval(1e12));
    }

    @Test
    void oneWildValueNeverCallsAndTheChartComesBack() {
        Cusum chart = new Cusum(1, 2.5, 4);
        assertFalse(chart.add(1000));
        assertFalse(chart.add(1000));
        assertTrue(chart.add(1000));
        for (int i = 0; i < 20; i++) {
            chart.add(1000);
        }
        int days = 0;
        while (chart.isCalling()) {
            chart.add(0);
            days++;
        }
        assertTrue(days <= 5, days + " values");
        assertThrows(IllegalArgumentException.class, () -> new Cusum(1, 1, 4));
    }
}
