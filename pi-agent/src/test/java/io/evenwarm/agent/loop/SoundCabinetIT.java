package io.evenwarm.agent.loop;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.plant.CabinetBuild;
import io.evenwarm.agent.plant.PlantFault;
import io.evenwarm.agent.testing.Plans;
import io.evenwarm.agent.testing.VirtualRun;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.GuardState;
import io.evenwarm.message.ProbeName;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Findings on simulated cabinets: none in a sound one, the right one in a broken one. */
final class SoundCabinetIT {

    private static final String KINDS = "litres, wall W/m2K, heater as a multiple of holding";

    private static VirtualRun run(double litres, double wall, double heater, long seed) {
        return new VirtualRun(
                Plans.threeProbes(), CabinetBuild.ofVolume(litres, wall, heater), seed, List.of());
    }

    /** From 21 °C through the warm-up and a day of a room that swings 18 to 26 °C. */
    @ParameterizedTest(name = KINDS + ": {0}, {1}, {2}")
    @CsvSource({"80, 1.2, 4", "250, 1.0, 3", "700, 0.8, 2"})
    void aSoundCabinetRaisesNothing(double litres, double wall, double heater) {
        for (int seed = 1; seed <= 3; seed++) {
            VirtualRun run = run(litres, wall, heater, seed);
            for (int second = 0; second < 36 * 3600; second++) {
                CabinetSnapshot snapshot = run.tick();
                assertEquals(List.of(), snapshot.findings(), "seed " + seed + ", second " + second);
            }
        }
    }

    @ParameterizedTest(name = KINDS + ": {0}, {1}, {2}")
    @CsvSource({"80, 1.2, 4", "250, 1.0, 3", "700, 0.8, 2"})
    void aStoppedFanIsFoundWithinAnHourAndNoEggGetsHot(double litres, double wall, double heater) {
        VirtualRun run = run(litres, wall, heater, 1);
        run.hours(24);
        run.cabinet().inject(new PlantFault.FanStopped());
        Set<FindingCode> found = codesWithin(run, 1);
        assertTrue(found.contains(FindingCode.FAN_STOPPED), found.toString());
        double warmest = 0;
        for (int second = 0; second < 12 * 3600; second++) {
            run.tick();
            warmest = Math.max(warmest, run.cabinet().truth().warmestTubCelsius());
        }
        assertTrue(warmest < 33.5, "warmest eggs " + warmest);
    }

    @ParameterizedTest(name = KINDS + ": {0}, {1}, {2}")
    @CsvSource({"80, 1.2, 4", "250, 1.0, 3", "700, 0.8, 2"})
    void aDeadHeaterIsTooColdAndABusThatHangsIsBlind(double litres, double wall, double heater) {
        VirtualRun run = run(litres, wall, heater, 1);
        run.hours(24);
        run.cabinet().inject(new PlantFault.BusHang());
        Set<FindingCode> found = codesWithin(run, 0.02);
        assertEquals(Set.of(FindingCode.BLIND, FindingCode.PROBE_LOST), found);
        assertEquals(GuardState.HOLDING, run.tick().guard());
        run.cabinet().clear(new PlantFault.BusHang());
        assertEquals(GuardState.ALLOWING, run.hours(0.1).guard());

        run.cabinet().inject(new PlantFault.HeaterOpen());
        Set<FindingCode> dead = codesWithin(run, 3);
        assertTrue(dead.contains(FindingCode.TOO_COLD), dead.toString());
        assertTrue(dead.contains(FindingCode.HEATER_DEAD), dead.toString());
    }

    /** The keeper sees which probe it is; the cabinet stays where the other two are. */
    @ParameterizedTest(name = KINDS + ": {0}, {1}, {2}")
    @CsvSource({"80, 1.2, 4", "250, 1.0, 3", "700, 0.8, 2"})
    void aProbeThatFallsOutIsFoundAndTheOthersKeepTheirTemperature(
            double litres, double wall, double heater) {
        VirtualRun run = run(litres, wall, heater, 1);
        run.hours(24);
        run.cabinet().inject(new PlantFault.ProbeFellOut(new ProbeName("middle")));
        Set<FindingCode> found = codesWithin(run, 1);
        assertEquals(Set.of(FindingCode.PROBE_FALLEN_OUT), found);
        double warmest = 0;
        for (int second = 0; second < 12 * 3600; second++) {
            run.tick();
            warmest = Math.max(warmest, run.cabinet().truth().warmestTubCelsius());
        }
        assertTrue(warmest < 34.5, "warmest eggs " + warmest);
    }

    private static Set<FindingCode> codesWithin(VirtualRun run, double hours) {
        Set<FindingCode> codes = new TreeSet<>();
        for (long left = Math.round(hours * 3600); left > 0; left--) {
            run.tick().findings().forEach(finding -> codes.add(finding.code()));
        }
        return codes;
    }
}
