package io.evenwarm.agent.rehearsal;

import io.evenwarm.agent.plant.PlantTruth;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.CabinetSnapshot;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.concurrent.CancellationException;
import java.util.function.BooleanSupplier;

/** Runs a scenario through the agent's own loop on the virtual clock, and says what came of it. */
public final class Rehearsal {

    /** The duty before a fault is that of so long. */
    private static final int DUTY_SECONDS = 1800;

    private static final int STOP_LOOK_SECONDS = 3600;

    private final Scenario scenario;
    private final OutputTrace trace = new OutputTrace();
    private final RunningScenario running;
    private final RecentTruth recent = new RecentTruth();
    private final FindingLog log = new FindingLog();
    private final ResponseWatch response = new ResponseWatch();
    private double peakEgg = Double.NEGATIVE_INFINITY;
    private double lowestEgg = Double.POSITIVE_INFINITY;
    private double peakAir = Double.NEGATIVE_INFINITY;
    private long aboveCeiling;
    private OptionalDouble firstAboveCeiling = OptionalDouble.empty();
    private final long firstFaultSecond;
    private long heaterOnSeconds;
    private long relayOperationsBeforeFault;

    private Rehearsal(Scenario scenario) {
        this.scenario = scenario;
        running = new RunningScenario(scenario, new CabinetName(Scenario.CABINET_NAME), trace);
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
        if (scenario.cabinet().start() == Scenario.Start.SETTLED) {
            response.startSettled();
        }
        trace.begin();
        for (long second = 0; second < scenario.durationSeconds(); second++) {
            if (second % STOP_LOOK_SECONDS == 0 && isStopped.getAsBoolean()) {
                throw new CancellationException("the rehearsal was stopped");
            }
            second(second);
        }
        running.close();
        List<FindingLog.Span> spans = log.all();
        Judge judge = new Judge(scenario);
        return new Verdict(
                scenario.seed(),
                peakEgg,
                lowestEgg,
                peakAir,
                aboveCeiling,
                firstAboveCeiling,
                judge.findings(spans),
                judge.firstRight(spans),
                firstFaultSecond >= DUTY_SECONDS
                        ? OptionalDouble.of((double) heaterOnSeconds / DUTY_SECONDS)
                        : OptionalDouble.empty(),
                response.response(),
                trace.heaterOperations(),
                firstFaultSecond >= 0 ? trace.heaterOperations() - relayOperationsBeforeFault : 0,
                trace.sha256());
    }

    private void second(long second) {
        if (second == firstFaultSecond) {
            relayOperationsBeforeFault = trace.heaterOperations();
        }
        Optional<CabinetSnapshot> published = running.second();
        trace.tick();
        PlantTruth truth = running.truth();
        recent.see(truth);
        if (published.isPresent()) {
            CabinetSnapshot snapshot = published.get();
            response.see(snapshot, (double) second);
            log.see(
                    snapshot.findings(),
                    (double) second,
                    finding -> recent.bearsOut(finding.code(), snapshot.limits()));
            if (second >= firstFaultSecond - DUTY_SECONDS && second < firstFaultSecond) {
                heaterOnSeconds += snapshot.heaterOn() ? 1 : 0;
            }
        }
        double warmestTub = truth.warmestTubCelsius();
        peakEgg = Math.max(peakEgg, warmestTub);
        lowestEgg = Math.min(lowestEgg, truth.coldestTubCelsius());
        peakAir = Math.max(peakAir, truth.warmestAirCelsius());
        if (warmestTub > scenario.cabinet().ceilingCelsius()) {
            if (aboveCeiling == 0) {
                firstAboveCeiling = OptionalDouble.of((double) second);
            }
            aboveCeiling++;
        }
    }
}
