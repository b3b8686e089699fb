package io.evenwarm.agent.rehearsal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.plan.ControlPlan;
import io.evenwarm.agent.plant.CabinetBuild;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Finding;
import io.evenwarm.message.FindingCode;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import org.junit.jupiter.api.Test;

/** Sound cabinets that are switched on cold, as drawn by the catalogue. */
final class WarmingUpTest {

    private static final int HOUR = 3600;

    private static VirtualRun cold(long seed, ControlPlan control) {
        Scenario.Cabinet cabinet = Catalogue.cabinet(seed);
        CabinetBuild build = cabinet.build();
        return new VirtualRun(
                build.withStart(build.ambientCelsius()),
                ScenarioPlan.of(cabinet).withControl(control),
                seed,
                List.of());
    }

    /** What was found in so many hours, but for cold, which a cold cabinet is. */
    private static Set<String> found(long seed, int hours) {
        VirtualRun run = cold(seed, ControlPlan.defaults());
        Set<String> codes = new TreeSet<>();
        for (int second = 0; second < hours * HOUR; second++) {
            for (Finding finding : run.second().findings()) {
                if (!finding.code().equals(FindingCode.TOO_COLD)) {
                    codes.add(finding.code().value());
                }
            }
        }
        return codes;
    }

    @Test
    void topAndBottomThatFullHeatPartsAreNoStoppedFan() {
        // Strong heaters in cold rooms, that part top and bottom by up to 4.5 K at full power.
        for (long seed : new long[] {58, 71, 94, 145, 168}) {
            assertEquals(Set.of(), found(seed, 5), "seed " + seed);
        }
    }

    @Test
    void heatThatComesOutOfHeaterAndWallsAfterHoursAtFullPowerIsNoStuckRelay() {
        // Weak heaters, that need 6 to 11 hours.
        for (long seed : new long[] {41, 50, 54, 198}) {
            assertEquals(Set.of(), found(seed, 14), "seed " + seed);
        }
    }

    @Test
    void aTunedCabinetIsEasedIntoItsSetPointLikeAnyOther() {
        ControlPlan tuned = ControlPlan.defaults().tuned(0.5, 700, 27).withWindow(116, 4);
        VirtualRun run = cold(20, tuned);
        double warmest = 0;
        for (int second = 0; second < 4 * HOUR; second++) {
            CabinetSnapshot snapshot = run.second();
            warmest =
                    Math.max(
                            warmest,
                            snapshot.processValue().map(value -> value.celsius()).orElse(0.0));
        }
        // Half a kelvin too warm where the short integral time counted all the way.
        assertTrue(warmest < 31.5 + 0.3, "got as warm as " + warmest);
    }
}
