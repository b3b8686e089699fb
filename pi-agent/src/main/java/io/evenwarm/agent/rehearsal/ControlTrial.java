package io.evenwarm.agent.rehearsal;

import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plan.ControlPlan;
import io.evenwarm.agent.plant.CabinetBuild;
import io.evenwarm.agent.plant.PlantFault;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Command;
import io.evenwarm.message.ControlReport;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.quantity.Temperature;
import java.util.List;
import java.util.Optional;

/**
 * What one way of control does to one simulated cabinet, through the agent's own loop: from cold, a
 * settled day, an open door, a colder room, another set point.
 *
 * <p>All is judged by the process value as the agent has it: probe lag, noise, rounding and the
 * relay's ripple included, only the integrals of the error without the ripple. Not thread-safe.
 */
final class ControlTrial {

    static final double SET_POINT_CELSIUS = Catalogue.SET_POINT;

    static final int HOUR = 3600;
    static final int DAY = 24 * HOUR;

    /** A cabinet that needs longer to get warm is counted as one that never does. */
    static final int LONGEST_WARMING_SECONDS = DAY;

    /** From reaching the set point to being settled. */
    static final int SETTLING_SECONDS = 6 * HOUR;

    /** A test that takes longer has failed. */
    static final int LONGEST_TEST_SECONDS = 2 * HOUR;

    static final int MEAN_SECONDS = 600;

    /**
     * Errors are summed up from means of this long, about a mechanical relay's window: the swing of
     * each window about its mean and the probes' noise are no error of control's, and no egg feels
     * them.
     */
    static final int ERROR_MEAN_SECONDS = 120;

    static final int DOOR_SECONDS = 300;
    static final int RECOVERY_SECONDS = 3 * HOUR;
    static final double ROOM_STEP_KELVIN = -5;
    static final double SET_POINT_STEP_KELVIN = 1;

    private static final double SECONDS_PER_HOUR = 3600;

    private final VirtualRun run;
    private final CabinetPlan plan;
    private double setPoint = SET_POINT_CELSIUS;
    private final double[] window = new double[MEAN_SECONDS];
    private double windowSum;
    private int windowSeen;
    private double value = Double.NEGATIVE_INFINITY;
    private double highest = Double.NEGATIVE_INFINITY;
    private double warmestProbe = Double.NEGATIVE_INFINITY;
    private boolean heaterWasOn;
    private int operations;

    /**
     * What came of it.
     *
     * @param warmingSeconds until the set point was first reached; NaN when it never was
     * @param overshootKelvin highest process value above the set point, from cold to settled
     * @param worstMeanKelvin furthest that any 10-minute mean of the settled day was off
     * @param operationsADay how often the heater's relay switched on in the settled day
     * @param meanDuty share of the settled day that the heater was on
     * @param doorPeakCelsius warmest probe in the three hours after five minutes of open door
     * @param doorErrorKelvinHours integral of the absolute error of 2-minute means in these, K h
     * @param roomErrorKelvinHours the same after the room got 5 K colder at once
     * @param stepErrorKelvinHours the same after the set point rose by 1 K
     * @param stepOvershootKelvin highest process value above the new set point
     */
    record Figures(
            double warmingSeconds,
            double overshootKelvin,
            double worstMeanKelvin,
            int operationsADay,
            double meanDuty,
            double doorPeakCelsius,
            double doorErrorKelvinHours,
            double roomErrorKelvinHours,
            double stepErrorKelvinHours,
            double stepOvershootKelvin) {}

    /**
     * A trial of one cabinet.
     *
     * @param cabinet what it is; its start is not looked at
     */
    ControlTrial(Scenario.Cabinet cabinet, ControlPlan control, long seed) {
        this(
                cabinet.build().withStart(cabinet.build().ambientCelsius()),
                ScenarioPlan.of(cabinet).withControl(control),
                seed);
    }

    private ControlTrial(CabinetBuild build, CabinetPlan plan, long seed) {
        this.plan = plan;
        run = new VirtualRun(build, plan, seed, List.of());
    }

    /**
     * What a step test on the settled cabinet leads to, run by the agent itself under its guard.
     *
     * @return empty when the test did not come to an end
     */
    static Optional<ControlPlan> tuned(Scenario.Cabinet cabinet, ControlPlan control, long seed) {
        ControlTrial trial =
                new ControlTrial(
                        cabinet.build().withStart(SET_POINT_CELSIUS),
                        ScenarioPlan.of(cabinet).withControl(control),
                        seed);
        for (int second = 0; second < SETTLING_SECONDS; second++) {
            trial.second();
        }
        trial.run
                .loop()
                .submit(
                        new Command.Tune(trial.plan.name(), Command.Tune.Action.STEP, true),
                        outcome -> {});
        for (int second = 0; second < LONGEST_TEST_SECONDS; second++) {
            Optional<ControlReport.Tuning> found =
                    trial.second().control().flatMap(ControlReport::tuning);
            if (found.isPresent()) {
                ControlReport.Tuning tuning = found.get();
                return tuning.failure().isPresent()
                        ? Optional.empty()
                        : Optional.of(
                                control.tuned(
                                                tuning.gainPerKelvin().orElseThrow(),
                                                tuning.integralSeconds().orElseThrow(),
                                                tuning.derivativeSeconds().orElseThrow())
                                        .withWindow(
                                                tuning.windowSeconds().orElseThrow(),
                                                tuning.minimumSeconds().orElseThrow()));
            }
        }
        return Optional.empty();
    }

    /** The whole trial: from cold to the last set point. */
    Figures all() {
        Figures day = settledDay();
        double doorPeak;
        run.cabinet().inject(new PlantFault.DoorOpen());
        for (int second = 0; second < DOOR_SECONDS; second++) {
            second();
        }
        run.cabinet().clear(new PlantFault.DoorOpen());
        warmestProbe = Double.NEGATIVE_INFINITY;
        double doorError = error(RECOVERY_SECONDS);
        doorPeak = warmestProbe;
        run.cabinet().inject(new PlantFault.AmbientStep(ROOM_STEP_KELVIN));
        double roomError = error(RECOVERY_SECONDS);
        run.cabinet().clear(new PlantFault.AmbientStep(ROOM_STEP_KELVIN));
        command(SET_POINT_CELSIUS - SET_POINT_STEP_KELVIN);
        for (int second = 0; second < SETTLING_SECONDS; second++) {
            second();
        }
        command(SET_POINT_CELSIUS);
        highest = Double.NEGATIVE_INFINITY;
        double stepError = error(RECOVERY_SECONDS);
        double overshoot = Math.max(0, highest - setPoint);
        return new Figures(
                day.warmingSeconds,
                day.overshootKelvin,
                day.worstMeanKelvin,
                day.operationsADay,
                day.meanDuty,
                doorPeak,
                doorError,
                roomError,
                stepError,
                overshoot);
    }

    /** From cold to the end of the settled day; the other figures are 0. */
    Figures settledDay() {
        double warming = Double.NaN;
        double overshoot = Double.NEGATIVE_INFINITY;
        int settlingLeft = SETTLING_SECONDS;
        for (int second = 0; settlingLeft > 0 && second < LONGEST_WARMING_SECONDS; second++) {
            second();
            overshoot = Math.max(overshoot, value - setPoint);
            if (Double.isNaN(warming) && value >= setPoint) {
                warming = second;
            }
            settlingLeft -= Double.isNaN(warming) ? 0 : 1;
        }
        operations = 0;
        int heating = 0;
        double worst = 0;
        for (int second = 0; second < DAY; second++) {
            second();
            heating += heaterWasOn ? 1 : 0;
            if (second >= MEAN_SECONDS - 1) {
                worst = Math.max(worst, Math.abs(windowSum / MEAN_SECONDS - setPoint));
            }
        }
        return new Figures(
                warming, overshoot, worst, operations, (double) heating / DAY, 0, 0, 0, 0, 0);
    }

    private double error(int seconds) {
        double sum = 0;
        double block = 0;
        for (int second = 1; second <= seconds; second++) {
            second();
            block += (value - setPoint) / SECONDS_PER_HOUR;
            if (second % ERROR_MEAN_SECONDS == 0) {
                sum += Math.abs(block);
                block = 0;
            }
            highest = Math.max(highest, value);
        }
        return sum;
    }

    private void command(double celsius) {
        setPoint = celsius;
        run.loop()
                .submit(
                        new Command.SetSetPoint(plan.name(), new Temperature(celsius)),
                        outcome -> {});
    }

    private CabinetSnapshot second() {
        CabinetSnapshot snapshot = run.second();
        operations += snapshot.heaterOn() && !heaterWasOn ? 1 : 0;
        heaterWasOn = snapshot.heaterOn();
        for (ProbeReading probe : snapshot.probes()) {
            if (probe.reading().quantity().orElse(null) instanceof Temperature at) {
                warmestProbe = Math.max(warmestProbe, at.celsius());
            }
        }
        if (snapshot.processValue().isPresent()) {
            value = snapshot.processValue().get().celsius();
            windowSum += value - window[windowSeen % MEAN_SECONDS];
            window[windowSeen % MEAN_SECONDS] = value;
            windowSeen++;
        }
        return snapshot;
    }
}
