package io.evenwarm.agent.loop;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plant.CabinetBuild;
import io.evenwarm.agent.plant.PlantFault;
import io.evenwarm.agent.plant.PlantTruth;
import io.evenwarm.agent.testing.Plans;
import io.evenwarm.agent.testing.VirtualRun;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.GuardState;
import java.util.List;
import java.util.Locale;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/**
 * Evidence whole-4, first half: the heater's relay welds closed after a day of quiet holding; set
 * point 31.5, cut-off 33.5, ceiling 34.5 °C. Prints the figures.
 */
@Tag("long")
final class WeldedHeaterIT {

    private static final int SEEDS = 5;
    private static final double HOURS_AFTER = 12;
    private static final double CEILING_CELSIUS = 34.5;

    /** The three sizes, walls of 0.8 to 1.2 W/m²K, heaters of 2 to 4 times holding. */
    private static final List<Kind> KINDS =
            List.of(
                    new Kind("80 L, 1.2 W/m2K, heater 4x", CabinetBuild.ofVolume(80, 1.2, 4)),
                    new Kind("250 L, 1.0 W/m2K, heater 3x", CabinetBuild.ofVolume(250, 1.0, 3)),
                    new Kind("700 L, 0.8 W/m2K, heater 2x", CabinetBuild.ofVolume(700, 0.8, 2)));

    private record Kind(String name, CabinetBuild build) {}

    /** What happened after the relay welded. */
    private record Outcome(
            double stoppedMinutes,
            double warmestEggs,
            double warmestAir,
            double coldestEggsAtEnd) {}

    @Test
    void theCutOffRelayStopsItAndTheEggsStayBelowTheCeiling() {
        for (Kind kind : KINDS) {
            double slowest = 0;
            double eggs = 0;
            double air = 0;
            for (int seed = 1; seed <= SEEDS; seed++) {
                Outcome outcome = welded(Plans.threeProbes(), kind.build(), seed);
                String run = kind.name() + ", seed " + seed + ": " + outcome;
                assertTrue(outcome.stoppedMinutes() > 0, run + " was not stopped");
                assertTrue(outcome.warmestEggs() < CEILING_CELSIUS, run);
                slowest = Math.max(slowest, outcome.stoppedMinutes());
                eggs = Math.max(eggs, outcome.warmestEggs());
                air = Math.max(air, outcome.warmestAir());
            }
            System.out.printf(
                    Locale.ROOT,
                    "whole-4 welded heater, cut-off relay fitted, %s, %d seeds: stopped within"
                            + " %.1f min, warmest eggs %.2f C, warmest air %.2f C%n",
                    kind.name(),
                    SEEDS,
                    slowest,
                    eggs,
                    air);
        }
    }

    /** The same without a cut-off relay: what the relay is for, and that the test can fail. */
    @Test
    void withoutACutOffRelayTheEggsPassTheCeilingThoughHeatIsHeldBack() {
        for (Kind kind : KINDS) {
            Outcome outcome = welded(withoutCutOffRelay(), kind.build(), 1);
            assertTrue(outcome.stoppedMinutes() > 0);
            assertTrue(outcome.warmestEggs() > CEILING_CELSIUS, kind.name() + ": " + outcome);
            System.out.printf(
                    Locale.ROOT,
                    "whole-4 welded heater, no cut-off relay, %s: warmest eggs %.2f C%n",
                    kind.name(),
                    outcome.warmestEggs());
        }
    }

    private static CabinetPlan withoutCutOffRelay() {
        CabinetPlan like = Plans.threeProbes();
        return new CabinetPlan(
                like.name(),
                like.probes(),
                like.setPoint(),
                like.limits(),
                like.control(),
                like.guard(),
                false,
                true);
    }

    private static Outcome welded(CabinetPlan plan, CabinetBuild build, long seed) {
        VirtualRun run = new VirtualRun(plan, build.withStart(30), seed, List.of());
        CabinetSnapshot before = run.hours(24);
        assertEquals(GuardState.ALLOWING, before.guard());
        run.cabinet().inject(new PlantFault.HeaterRelayWelded());
        double stoppedMinutes = 0;
        double warmestEggs = 0;
        double warmestAir = 0;
        int seconds = (int) (HOURS_AFTER * 3600);
        for (int second = 1; second <= seconds; second++) {
            CabinetSnapshot snapshot = run.tick();
            if (stoppedMinutes == 0 && snapshot.guard() != GuardState.ALLOWING) {
                stoppedMinutes = second / 60.0;
            }
            PlantTruth truth = run.cabinet().truth();
            warmestEggs = Math.max(warmestEggs, truth.warmestTubCelsius());
            warmestAir = Math.max(warmestAir, truth.warmestAirCelsius());
        }
        return new Outcome(
                stoppedMinutes, warmestEggs, warmestAir, run.cabinet().truth().coldestTubCelsius());
    }
}
