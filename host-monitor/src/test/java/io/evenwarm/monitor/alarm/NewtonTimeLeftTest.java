package io.evenwarm.monitor.alarm;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.plant.CabinetBuild;
import io.evenwarm.agent.plant.CabinetPhysics;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.FindingCode;
import io.evenwarm.monitor.alarm.NewtonTimeLeft.Assumptions;
import io.evenwarm.monitor.alarm.Scene.Air;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** Newton's law of cooling, and that it errs on the short side. */
final class NewtonTimeLeftTest {

    private static final CabinetName NAME = new CabinetName("north");

    private final Scene scene = new Scene();
    private final Air air = new Air();

    private TimeLeft.Estimate estimate(Assumptions assumptions) {
        CabinetSnapshot snapshot = scene.snapshot(NAME, air);
        Now now = new Now(Instant.EPOCH, 0);
        return new NewtonTimeLeft(assumptions)
                .of(snapshot, EggCourse.after(Optional.empty(), snapshot, now).coldestCelsius());
    }

    /** τ = 3600 s, the room as measured, 40 K of full heat, no fan. */
    private static Assumptions plain(double coldLimit) {
        return new Assumptions(coldLimit, 3600, 0, 0, 0, 0, 0, 40);
    }

    /**
     * From 31.5 °C in a room of 11.5 °C to 11.5 + 20/e °C it takes one time constant (Lienhard, A
     * Heat Transfer Textbook: the lumped response falls to 0.36788 at t = τ).
     */
    @Test
    void afterOneTimeConstantOneOverEOfTheDifferenceIsLeft() {
        air.ambient = 11.5;
        Duration left = estimate(plain(11.5 + 20 * 0.36787944117)).toCold().orElseThrow();
        assertEquals(3600, left.toMillis() / 1000.0, 0.001);
    }

    /** The same law for heat: 31.5 → 34.5 °C towards 22 + 40 °C is τ ln(30.5 / 27.5). */
    @Test
    void aStuckHeaterWarmsByTheSameLaw() {
        air.ambient = 22;
        assertEquals(Optional.empty(), estimate(plain(20)).toHeat(), "nothing heats");
        air.findings.put(FindingCode.HEATER_STUCK_ON, Optional.empty());
        Duration left = estimate(plain(20)).toHeat().orElseThrow();
        assertEquals(3600 * Math.log(30.5 / 27.5), left.toMillis() / 1000.0, 0.002);
    }

    @Test
    void aLimitThatTheRoomDoesNotReachIsNeverCrossed() {
        air.ambient = 21;
        assertEquals(Optional.empty(), estimate(plain(20)).toCold());
        air.ambient = 20;
        assertEquals(Optional.empty(), estimate(plain(20)).toCold());
    }

    @Test
    void beyondALimitNoTimeIsLeft() {
        air.bottom = 19.9;
        air.top = 34.5;
        TimeLeft.Estimate left = estimate(Assumptions.DEFAULT);
        assertEquals(Optional.of(Duration.ZERO), left.toCold());
        assertEquals(Optional.of(Duration.ZERO), left.toHeat());
    }

    @Test
    void theColdestAndTheWarmestPlaceCount() {
        air.ambient = 12;
        Duration even = estimate(Assumptions.DEFAULT).toCold().orElseThrow();
        air.bottom = 27;
        Duration colder = estimate(Assumptions.DEFAULT).toCold().orElseThrow();
        assertTrue(colder.compareTo(even) < 0, colder + " against " + even);
    }

    @Test
    void aHeaterThatIsOnAboveTheWarmLimitCountsAsStuck() {
        air.all(33);
        assertEquals(Optional.empty(), estimate(Assumptions.DEFAULT).toHeat());
        air.isHeaterOn = true;
        assertTrue(estimate(Assumptions.DEFAULT).toHeat().isPresent());
        air.all(31.6);
        assertEquals(Optional.empty(), estimate(Assumptions.DEFAULT).toHeat());
    }

    @Test
    void anUnknownRoomIsTakenToBeColdAndABlindCabinetToBeAtItsSetPoint() {
        air.all(Double.NaN);
        Duration left = estimate(Assumptions.DEFAULT).toCold().orElseThrow();
        assertEquals(5400 * Math.log((31.5 - 12) / (20 - 12)), left.toMillis() / 1000.0, 0.002);
    }

    /**
     * Cabinets of 60 to 900 L, walls of 0.4 and 1.4 W/m²K, one tub or full shelves: without power
     * in a room of 12 °C, and with full heat for ever in one of 22 °C. The tubs, where the eggs
     * lie, take longer to the limits in every one of them.
     */
    @Test
    void everySimulatedCabinetGivesItsEggsLongerThanThat() {
        air.ambient = 16;
        Duration cold = estimate(Assumptions.DEFAULT).toCold().orElseThrow();
        air.ambient = 22;
        air.findings.put(FindingCode.HEATER_STUCK_ON, Optional.empty());
        Duration heat = estimate(Assumptions.DEFAULT).toHeat().orElseThrow();
        for (double litres : new double[] {60, 250, 900}) {
            for (double wall : new double[] {0.4, 1.4}) {
                CabinetBuild full = CabinetBuild.ofVolume(litres, wall, 2);
                for (int tubs : new int[] {1, full.tubs()}) {
                    CabinetBuild build = warm(full, tubs);
                    assertLonger(cold, secondsToCold(build), build);
                    assertLonger(heat, secondsToHeat(build), build);
                }
            }
        }
    }

    private static void assertLonger(Duration estimated, long seconds, CabinetBuild build) {
        assertTrue(
                seconds > estimated.toSeconds(),
                () -> seconds + " s, but " + estimated + " was estimated, in " + build);
    }

    private static CabinetBuild warm(CabinetBuild build, int tubs) {
        return new CabinetBuild(
                build.volumeLitres(),
                build.heatLossWattsPerKelvin(),
                build.heaterWatts(),
                build.fanWatts(),
                tubs,
                build.tubKilograms(),
                12,
                0,
                31.5,
                0);
    }

    private static long secondsToCold(CabinetBuild build) {
        CabinetPhysics cabinet = new CabinetPhysics(build);
        long seconds = 0;
        while (coldestTub(cabinet) > Assumptions.DEFAULT.coldLimitCelsius()) {
            cabinet.step(0, 0, 0, false, 12);
            seconds++;
        }
        return seconds;
    }

    private static long secondsToHeat(CabinetBuild build) {
        CabinetPhysics cabinet = new CabinetPhysics(build);
        long seconds = 0;
        while (warmestTub(cabinet) < 34.5) {
            cabinet.step(build.heaterWatts(), build.fanWatts(), 1, false, 22);
            seconds++;
        }
        return seconds;
    }

    private static double coldestTub(CabinetPhysics cabinet) {
        return Math.min(
                cabinet.tubCelsius(0), Math.min(cabinet.tubCelsius(1), cabinet.tubCelsius(2)));
    }

    private static double warmestTub(CabinetPhysics cabinet) {
        return Math.max(
                cabinet.tubCelsius(0), Math.max(cabinet.tubCelsius(1), cabinet.tubCelsius(2)));
    }

    @Test
    void itSaysWhatItAssumes() {
        assertEquals(
                "conservative, by constants: lower limit 20.0 °C, upper limit the cabinet's ceiling,"
                        + " time constant 90 min, all heat gone, or full heat where it may be stuck",
                estimate(Assumptions.DEFAULT).assumptions());
    }

    @Test
    void constantsThatMakeNoSenseAreRefused() {
        assertEquals(
                "timeConstantSeconds must be 60.0 to 1000000.0 but was 0.0",
                assertThrows(
                                IllegalArgumentException.class,
                                () -> new Assumptions(20, 0, 12, 4, 30, 2, 2, 40))
                        .getMessage());
    }
}
