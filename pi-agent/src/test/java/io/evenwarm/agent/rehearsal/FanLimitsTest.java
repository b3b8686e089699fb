package io.evenwarm.agent.rehearsal;

import static org.junit.jupiter.api.Assertions.assertEquals;

import io.evenwarm.agent.plant.CabinetBuild;
import io.evenwarm.agent.plant.CabinetPhysics;
import io.evenwarm.agent.plant.PlantFault;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.junit.jupiter.api.Test;

/**
 * What the best rule could tell of a fan without a tachometer where little heat is needed, computed
 * from the constants of the catalogue's cabinets. {@code docs/findings.md} tells these numbers.
 *
 * <p>A rule that knows where half the gap between top and bottom stands while the fan is sound can
 * see it leave that place once it is farther away than chance takes it. By Neyman and Pearson no
 * test is better than comparing that distance with a threshold: at a false alarm in ten
 * cabinet-years, asked once a window, the threshold is z(α) standard deviations, and 95 of 100
 * stopped fans are above it where the signal is z(0.95) = 1.645 more.
 */
final class FanLimitsTest {

    private static final int SEEDS = 1000;
    private static final int HOUR = 3600;
    private static final double LOW_DUTY = 0.1;

    /** What means of half an hour and more keep to in sound cabinets through weather, K. */
    private static final double LINE_KELVIN = 0.0025;

    /** A thermometer's step, K. */
    private static final double STEP_KELVIN = 0.0625;

    /** A sample of each of three probes on one bus takes three conversions, s. */
    private static final double SAMPLE_SECONDS = 3;

    /** Means that are short beside the times asked for, s. */
    private static final double STOPPED_MEAN_SECONDS = 600;

    private static final double SLOW_MEAN_SECONDS = 5400;

    /** Standard normal quantile at 0.95. */
    private static final double POWER = 1.645;

    /**
     * The same at 1 − 0.1 × 40 min / 1 year, and at 1 − 0.1 × 12 h / 1 year (bisection of erfc).
     */
    private static final double STOPPED = 4.3256;

    private static final double SLOW = 3.639;

    /** Standard deviation of half the gap of two probes, in a mean of so many seconds, K. */
    private static double standardDeviation(CabinetBuild build, double meanSeconds) {
        double noise = build.noiseKelvin() * build.noiseKelvin();
        double sample = (STEP_KELVIN * STEP_KELVIN / 12 + noise) / 2;
        return StrictMath.sqrt(LINE_KELVIN * LINE_KELVIN + sample * SAMPLE_SECONDS / meanSeconds);
    }

    static double halfGap(CabinetPhysics cabinet) {
        return (cabinet.airCelsius(2) - cabinet.airCelsius(0)) / 2;
    }

    /**
     * In which minute the half gap has moved so far, with the heat that held the cabinet before;
     * infinity when not within these hours. Empty where the duty is none or not low.
     */
    private static List<Double> minute(CabinetBuild build, double flow, double kelvin, int hours) {
        double room = build.ambientCelsius();
        double watts = holdingWatts(build);
        if (watts <= 0 || watts >= LOW_DUTY * build.heaterWatts()) {
            return List.of();
        }
        CabinetPhysics cabinet = new CabinetPhysics(build.withStart(Catalogue.SET_POINT));
        for (int i = 0; i < 8 * HOUR; i++) {
            cabinet.step(watts, build.fanWatts(), 1, false, room);
        }
        double before = halfGap(cabinet);
        for (int i = 0; i < hours * HOUR; i++) {
            cabinet.step(watts, flow * build.fanWatts(), flow, false, room);
            if (Math.abs(halfGap(cabinet) - before) >= kelvin) {
                return List.of(i / 60.0);
            }
        }
        return List.of(Double.POSITIVE_INFINITY);
    }

    /** What the heater must give at the room's mean, W; below 0 where the fan alone is too much. */
    static double holdingWatts(CabinetBuild build) {
        return build.heatLossWattsPerKelvin() * (Catalogue.SET_POINT - build.ambientCelsius())
                - build.fanWatts();
    }

    /** How far means of an hour and a half must leave their line to tell 95 slow fans of 100, K. */
    static double slowNeedsKelvin(CabinetBuild build) {
        return (SLOW + POWER) * standardDeviation(build, SLOW_MEAN_SECONDS);
    }

    private static double flow(long seed) {
        Mishap what = Catalogue.scenario(FaultKind.FAN_SLOW, seed).faults().get(0).what();
        return ((PlantFault.FanSlow) ((Mishap.InCabinet) what).fault()).flowShare();
    }

    @Test
    void theQuantilesAreThoseOfOneFalseAlarmInTenYears() {
        double year = 365.25 * 24;
        assertEquals(0.1 * (40 / 60.0) / year, tail(STOPPED), 0.02e-6);
        assertEquals(0.1 * 12 / year, tail(SLOW), 0.02e-4);
    }

    /** Upper tail of the standard normal distribution, by Simpson's rule over 12 units. */
    private static double tail(double from) {
        int steps = 12_000;
        double width = 12.0 / steps;
        double sum = 0;
        for (int i = 0; i <= steps; i++) {
            double x = from + i * width;
            double weight = i == 0 || i == steps ? 1 : i % 2 == 1 ? 4 : 2;
            sum += weight * StrictMath.exp(-x * x / 2);
        }
        return sum * width / 3 / StrictMath.sqrt(2 * StrictMath.PI);
    }

    @Test
    void physicsForbidsTheTimesAskedForInFewOfTheCabinetsAtALowDuty() {
        List<Double> stopped = new ArrayList<>();
        List<Double> slow = new ArrayList<>();
        for (long seed = 1; seed <= SEEDS; seed++) {
            CabinetBuild build = Catalogue.cabinet(seed).build();
            double stoppedKelvin =
                    (STOPPED + POWER) * standardDeviation(build, STOPPED_MEAN_SECONDS);
            stopped.addAll(minute(build, 0, stoppedKelvin, 3));
            slow.addAll(minute(build, flow(seed), slowNeedsKelvin(build), 12));
        }
        long stoppedLate = stopped.stream().filter(minute -> minute > 40).count();
        long slowLate = slow.stream().filter(minute -> minute > 12 * 60).count();
        String words =
                String.format(
                        Locale.ROOT,
                        "of %d cabinets at a low duty %d stopped fans can't be told within 40 min,"
                                + " %d slow ones not within 12 h",
                        stopped.size(),
                        stoppedLate,
                        slowLate);
        System.out.println(words);
        assertEquals(335, stopped.size(), words);
        assertEquals(9, stoppedLate, words);
        assertEquals(33, slowLate, words);
    }
}
