package io.evenwarm.monitor.alarm;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.plant.CabinetBuild;
import io.evenwarm.agent.plant.CabinetPhysics;
import io.evenwarm.message.CabinetName;
import io.evenwarm.monitor.alarm.Scene.Air;
import java.time.Instant;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** Eggs follow the air late, and are never taken to be warmer than they are. */
final class EggCourseTest {

    private static final CabinetName NAME = new CabinetName("north");
    private static final long SECOND = 1_000_000_000L;
    private static final double ROUNDING_KELVIN = 0.05;

    private final Scene scene = new Scene();
    private final Air air = new Air();
    private Optional<EggCourse> eggs = Optional.empty();
    private long nanos = SECOND;

    private double see(double seconds) {
        nanos += (long) (seconds * SECOND);
        eggs =
                Optional.of(
                        EggCourse.after(
                                eggs, scene.snapshot(NAME, air), new Now(Instant.EPOCH, nanos)));
        return eggs.get().coldestCelsius();
    }

    /** Five minutes of a door thrown open: 11.5 K (1 − e^(−1/6)) = 1.77 K. */
    @Test
    void minutesOfColdAirCoolTheEggsByADegreeOrTwo() {
        air.all(31.5);
        assertEquals(31.5, see(1), 1e-9);
        air.all(20);
        assertEquals(31.5 - 11.5 * (1 - Math.exp(-1.0 / 6)), see(300), 1e-9);
        assertFalse(eggs.orElseThrow().isWarming());
    }

    @Test
    void afterHoursWithoutHeatTheEggsAreStillColdWhenTheAirIsWarm() {
        air.all(20);
        assertEquals(20, see(1), 1e-9);
        air.all(31.5);
        assertEquals(31.5 - 11.5 * Math.exp(-0.25), see(1800), 1e-9);
        assertTrue(eggs.orElseThrow().isWarming(), "they get no colder as long as it stays so");
    }

    @Test
    void theColdestPlaceCountsAndTheRoomDoesNot() {
        air.all(31.5);
        air.bottom = 29;
        air.ambient = 12;
        assertEquals(29, see(1), 1e-9);
    }

    @Test
    void whereNothingIsReadItStaysAsItWasAndTheWholeGapCountsLater() {
        air.all(31.5);
        double before = see(1);
        air.all(Double.NaN);
        assertEquals(before, see(3600), 1e-9);
        air.all(20);
        assertEquals(20 + 11.5 * Math.exp(-2), see(0), 1e-9);
    }

    /**
     * Small and large cabinets, one tub and full shelves: hours without power, then full heat; an
     * open door, then closed and heated.
     */
    @Test
    void noSimulatedEggsAreColderThanTheyAreTakenToBe() {
        for (double litres : new double[] {60, 250, 900}) {
            for (double wall : new double[] {0.4, 1.4}) {
                CabinetBuild full = CabinetBuild.ofVolume(litres, wall, 3).withAmbient(14, 0);
                for (int tubs : new int[] {1, full.tubs()}) {
                    CabinetBuild build = full.withTubs(tubs, 1.2).withStart(31.5);
                    follow(build, 4 * 3600, false);
                    follow(build, 900, true);
                }
            }
        }
    }

    private void follow(CabinetBuild build, int seconds, boolean isDoorOpen) {
        CabinetPhysics cabinet = new CabinetPhysics(build);
        eggs = Optional.empty();
        for (int second = 0; second < seconds + 6 * 3600; second++) {
            boolean isTrouble = second < seconds;
            boolean isWarm = cabinet.airCelsius(1) > 31.5;
            cabinet.step(
                    isTrouble || isWarm ? 0 : build.heaterWatts(),
                    isTrouble ? 0 : build.fanWatts(),
                    isTrouble ? 0 : 1,
                    isTrouble && isDoorOpen,
                    14);
            air.top = cabinet.airCelsius(0);
            air.middle = cabinet.airCelsius(1);
            air.bottom = cabinet.airCelsius(2);
            if (second % 60 == 0) {
                double taken = see(60);
                double really = coldestTub(cabinet);
                int at = second;
                assertTrue(
                        taken <= really + ROUNDING_KELVIN,
                        () ->
                                really
                                        + " °C, but taken to be "
                                        + taken
                                        + " after "
                                        + at
                                        + " s in "
                                        + build);
            }
        }
    }

    private static double coldestTub(CabinetPhysics cabinet) {
        return Math.min(
                cabinet.tubCelsius(0), Math.min(cabinet.tubCelsius(1), cabinet.tubCelsius(2)));
    }
}
