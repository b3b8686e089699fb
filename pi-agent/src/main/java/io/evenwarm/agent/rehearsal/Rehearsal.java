package io.evenwarm.agent.rehearsal;

import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plant.CabinetBuild;
import io.evenwarm.agent.plant.PlantTruth;
import io.evenwarm.agent.plant.SimulatedCabinet;
import io.evenwarm.message.CabinetSnapshot;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.OptionalDouble;
import java.util.concurrent.CancellationException;
import java.util.function.BooleanSupplier;

/**
 * Runs a scenario through the agent's own loop on the virtual clock, and says what came of it.
 *
 * <p>A mains cut stops heater and fan only: the agent goes on, as on a battery.
 */
public final class Rehearsal {

    /** How long a settled start has held its set point when the scenario begins. */
    private static final int SETTLING_SECONDS = 6 * 3600;

    /** The duty before a fault is that of so long. */
    private static final int DUTY_SECONDS = 1800;

    private static final int STOP_LOOK_SECONDS = 3600;

    private final Scenario scenario;
    private final VirtualRun run;
    private final OutputTrace trace = new OutputTrace();
    private final List<Change> changes;
    private final List<Scenario.TimedFault> inForce = new ArrayList<>();
    private final RecentTruth recent = new RecentTruth();
    private final FindingLog log = new FindingLog();
    private int changesDone;
    private double peakEgg = Double.NEGATIVE_INFINITY;
    private double lowestEgg = Double.POSITIVE_INFINITY;
    private double peakAir = Double.NEGATIVE_INFINITY;
    private long aboveCeiling;
    private final long firstFaultSecond;
    private long heaterOnSeconds;

    private record Change(double atSeconds, Scenario.TimedFault fault, boolean begins) {}

    private Rehearsal(Scenario scenario) {
        this.scenario = scenario;
        CabinetPlan plan = ScenarioPlan.of(scenario.cabinet());
        run =
                new VirtualRun(
                        build(scenario.cabinet()), plan, scenario.seed(), List.of(), trace::watch);
        changes = changes(scenario);
        firstFaultSecond =
                (long)
                        scenario.faults().stream()
                                .mapToDouble(Scenario.TimedFault::atSeconds)
                                .min()
                                .orElse(-1);
    }

    /**
     * Runs a scenario to its end.
     *
     * @throws IllegalArgumentException when its limits do not fit each other
     */
    public static Verdict run(Scenario scenario) {
        return run(scenario, () -> false);
    }

    /**
     * As {@link #run(Scenario)}, unless it is stopped before.
     *
     * @param isStopped asked each simulated hour
     * @throws CancellationException when it was stopped
     */
    public static Verdict run(Scenario scenario, BooleanSupplier isStopped) {
        return new Rehearsal(scenario).toTheEnd(isStopped);
    }

    private Verdict toTheEnd(BooleanSupplier isStopped) {
        boolean isSettled = scenario.cabinet().start() == Scenario.Start.SETTLED;
        for (int second = isSettled ? -SETTLING_SECONDS : 0; second < 0; second++) {
            run.second();
        }
        trace.begin();
        for (long second = 0; second < scenario.durationSeconds(); second++) {
            if (second % STOP_LOOK_SECONDS == 0 && isStopped.getAsBoolean()) {
                throw new CancellationException("the rehearsal was stopped");
            }
            second(second);
        }
        run.loop().close();
        List<FindingLog.Span> spans = log.all();
        Judge judge = new Judge(scenario);
        return new Verdict(
                scenario.seed(),
                peakEgg,
                lowestEgg,
                peakAir,
                aboveCeiling,
                judge.findings(spans),
                judge.firstRight(spans),
                firstFaultSecond >= DUTY_SECONDS
                        ? OptionalDouble.of((double) heaterOnSeconds / DUTY_SECONDS)
                        : OptionalDouble.empty(),
                trace.heaterOperations(),
                trace.sha256());
    }

    private void second(long second) {
        while (changesDone < changes.size() && changes.get(changesDone).atSeconds() <= second) {
            apply(changes.get(changesDone++));
        }
        CabinetSnapshot snapshot = run.second();
        trace.tick();
        PlantTruth truth = run.cabinet().truth();
        recent.see(truth);
        log.see(
                snapshot.findings(),
                (double) second,
                finding -> recent.bearsOut(finding.code(), snapshot.limits()));
        if (second >= firstFaultSecond - DUTY_SECONDS && second < firstFaultSecond) {
            heaterOnSeconds += snapshot.heaterOn() ? 1 : 0;
        }
        double warmestTub = truth.warmestTubCelsius();
        peakEgg = Math.max(peakEgg, warmestTub);
        lowestEgg = Math.min(lowestEgg, truth.coldestTubCelsius());
        peakAir = Math.max(peakAir, truth.warmestAirCelsius());
        aboveCeiling += warmestTub > scenario.cabinet().ceilingCelsius() ? 1 : 0;
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
        List<Scenario.TimedFault> all = new ArrayList<>(scenario.everyday());
        all.addAll(scenario.faults());
        for (Scenario.TimedFault fault : all) {
            changes.add(new Change(fault.atSeconds(), fault, true));
            if (fault.forSeconds().isPresent()) {
                changes.add(new Change(fault.untilSeconds(), fault, false));
            }
        }
        changes.sort(Comparator.comparingDouble(Change::atSeconds));
        return changes;
    }

    private void apply(Change change) {
        SimulatedCabinet cabinet = run.cabinet();
        Scenario.TimedFault fault = change.fault();
        if (!(fault.what() instanceof Mishap.InCabinet in)) {
            throw new AssertionError("no handling of " + fault.what());
        }
        if (change.begins()) {
            inForce.add(fault);
            cabinet.inject(in.fault());
            return;
        }
        inForce.remove(fault);
        cabinet.clear(in.fault());
        // Another of its kind may go on: a door that is open for two reasons stays open.
        for (Scenario.TimedFault other : inForce) {
            if (other.what() instanceof Mishap.InCabinet still
                    && still.fault().isSameKindAs(in.fault())) {
                cabinet.inject(still.fault());
            }
        }
    }
}
