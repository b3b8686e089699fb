package io.evenwarm.agent.rehearsal;

import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plant.CabinetBuild;
import io.evenwarm.agent.plant.PlantTruth;
import io.evenwarm.agent.plant.SimulatedCabinet;
import io.evenwarm.message.CabinetSnapshot;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;

/**
 * Runs a scenario through the agent's own loop on the virtual clock, and says what came of it.
 *
 * <p>A mains cut stops heater and fan only: the agent goes on, as on a battery.
 */
public final class Rehearsal {

    /** How long a settled start has held its set point when the scenario begins. */
    private static final int SETTLING_SECONDS = 6 * 3600;

    private Rehearsal() {}

    private record Change(double atSeconds, Scenario.TimedFault fault, boolean begins) {}

    /**
     * Runs a scenario to its end.
     *
     * @throws IllegalArgumentException when its limits do not fit each other
     */
    public static Verdict run(Scenario scenario) {
        CabinetPlan plan = ScenarioPlan.of(scenario.cabinet());
        boolean isSettled = scenario.cabinet().start() == Scenario.Start.SETTLED;
        OutputTrace trace = new OutputTrace();
        VirtualRun run =
                new VirtualRun(
                        build(scenario.cabinet()), plan, scenario.seed(), List.of(), trace::watch);
        for (int second = isSettled ? -SETTLING_SECONDS : 0; second < 0; second++) {
            run.second();
        }
        trace.begin();
        List<Change> changes = changes(scenario);
        int done = 0;
        double ceiling = scenario.cabinet().ceilingCelsius();
        double peakEgg = Double.NEGATIVE_INFINITY;
        double lowestEgg = Double.POSITIVE_INFINITY;
        double peakAir = Double.NEGATIVE_INFINITY;
        long aboveCeiling = 0;
        FindingLog findings = new FindingLog();
        for (long second = 0; second < scenario.durationSeconds(); second++) {
            while (done < changes.size() && changes.get(done).atSeconds() <= second) {
                apply(changes.get(done++), run.cabinet());
            }
            CabinetSnapshot snapshot = run.second();
            trace.tick();
            findings.see(snapshot.findings(), (double) second);
            PlantTruth truth = run.cabinet().truth();
            peakEgg = Math.max(peakEgg, truth.warmestTubCelsius());
            lowestEgg = Math.min(lowestEgg, truth.coldestTubCelsius());
            peakAir = Math.max(peakAir, truth.warmestAirCelsius());
            aboveCeiling += truth.warmestTubCelsius() > ceiling ? 1 : 0;
        }
        run.loop().close();
        return new Verdict(
                scenario.seed(),
                peakEgg,
                lowestEgg,
                peakAir,
                aboveCeiling,
                findings.all(),
                trace.heaterOperations(),
                trace.sha256());
    }

    private static CabinetBuild build(Scenario.Cabinet cabinet) {
        return cabinet.build()
                .withStart(
                        cabinet.start() == Scenario.Start.SETTLED
                                ? cabinet.setPointCelsius()
                                : cabinet.build().ambientCelsius());
    }

    private static List<Change> changes(Scenario scenario) {
        List<Change> changes = new ArrayList<>();
        for (Scenario.TimedFault fault : scenario.faults()) {
            changes.add(new Change(fault.atSeconds(), fault, true));
            if (fault.forSeconds().isPresent()) {
                changes.add(new Change(fault.untilSeconds(), fault, false));
            }
        }
        changes.sort(Comparator.comparingDouble(Change::atSeconds));
        return changes;
    }

    private static void apply(Change change, SimulatedCabinet cabinet) {
        if (change.begins()) {
            cabinet.inject(change.fault().fault());
        } else {
            cabinet.clear(change.fault().fault());
        }
    }
}
