package io.evenwarm.agent.control;

import java.util.Optional;

/**
 * A step test: the duty is changed once and left there until the air has moved enough to tell how
 * it answers, or for half an hour. Half an hour also keeps the slow parts of a cabinet, its walls
 * and its tubs, out of the model: what control has to deal with is quicker.
 */
public final class StepTest extends TuningTest {

    /** So much of a change tells enough, and no egg notices. */
    static final double ENOUGH_KELVIN = 0.8;

    /** Less is lost in noise. */
    static final double LEAST_KELVIN = 0.25;

    static final double LONGEST_SECONDS = 1800;
    static final double SHORTEST_SECONDS = 120;
    private static final double LOOK_SECONDS = StepFit.BIN_SECONDS;
    private static final double STEP = 0.25;
    private static final double LEAST_STEP = 0.1;

    private final StepFit fit = new StepFit(WATCH_SECONDS + LONGEST_SECONDS);
    private double stepSeconds;
    private int looks;
    private double baseCelsius;
    private double baseDuty;
    private double dutyStep;
    private Optional<TestFinding> finding = Optional.empty();

    public StepTest(double setPointCelsius, double warmestAllowedCelsius) {
        super(setPointCelsius, warmestAllowedCelsius);
    }

    @Override
    void look(double celsius, double elapsedSeconds, boolean heaterWasOn) {
        fit.add(celsius, elapsedSeconds, heaterWasOn);
    }

    @Override
    void begin(double celsius, double duty) {
        baseCelsius = celsius;
        baseDuty = duty;
        double step = Math.max(LEAST_STEP, Math.min(STEP, duty));
        dutyStep = 1 - duty >= LEAST_STEP ? Math.min(step, 1 - duty) : -STEP;
    }

    @Override
    void drive(double celsius, boolean isTooWarm, double elapsedSeconds) {
        stepSeconds += elapsedSeconds;
        if (stepSeconds < LOOK_SECONDS * (looks + 1) && !isTooWarm) {
            return;
        }
        looks++;
        double change = Math.abs(fit.newestCelsius() - baseCelsius);
        boolean isEnough = change >= ENOUGH_KELVIN && stepSeconds >= SHORTEST_SECONDS;
        if (isEnough || isTooWarm || stepSeconds >= LONGEST_SECONDS - LOOK_SECONDS / 2) {
            end(change);
        }
    }

    private void end(double change) {
        if (change < LEAST_KELVIN) {
            fail("the air did not answer the heater enough to tell how");
            return;
        }
        Optional<ProcessModel> model = fit.model(baseDuty);
        if (model.isEmpty()) {
            fail("the air's answer looks like no heater's");
            return;
        }
        finding = Optional.of(new TestFinding(baseDuty, model, Optional.empty()));
    }

    @Override
    double duty() {
        return baseDuty + dutyStep;
    }

    @Override
    public Optional<TestFinding> finding() {
        return finding;
    }

    @Override
    String name() {
        return "step";
    }
}
