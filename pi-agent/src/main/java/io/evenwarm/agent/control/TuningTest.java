package io.evenwarm.agent.control;

import java.util.Optional;

/**
 * A test that finds out how a cabinet answers its heater. First control goes on by itself while the
 * test looks at what holds the cabinet; then the test says the duty.
 *
 * <p>It only ever asks for a duty, as control does: whether there is heat decides the guard. Called
 * by the control thread only.
 */
public abstract sealed class TuningTest permits StepTest, RelayTest {

    /** How long the cabinet is watched before anything is done to it. */
    static final double WATCH_SECONDS = 1200;

    /** A cabinet that is further from its set point is not settled. */
    static final double SETTLED_KELVIN = 0.25;

    private final double setPointCelsius;
    private final double warmestAllowedCelsius;
    private double seconds;
    private double valueSum;
    private double onSum;
    private double firstHalfSum;
    private boolean isDriving;
    private Optional<String> failure = Optional.empty();

    /**
     * @param setPointCelsius what the cabinet is held at
     * @param warmestAllowedCelsius the test ends before any probe gets this warm
     */
    TuningTest(double setPointCelsius, double warmestAllowedCelsius) {
        this.setPointCelsius = setPointCelsius;
        this.warmestAllowedCelsius = warmestAllowedCelsius;
    }

    /**
     * One step of the control thread.
     *
     * @param celsius the process value
     * @param warmestCelsius the warmest air probe
     * @param elapsedSeconds since the step before, above 0
     * @param heaterWasOn whether the heater was on since then
     */
    final void step(
            double celsius, double warmestCelsius, double elapsedSeconds, boolean heaterWasOn) {
        if (isOver()) {
            return;
        }
        seconds += elapsedSeconds;
        look(celsius, elapsedSeconds, heaterWasOn);
        if (isDriving) {
            drive(celsius, warmestCelsius >= warmestAllowedCelsius, elapsedSeconds);
            return;
        }
        valueSum += celsius * elapsedSeconds;
        onSum += heaterWasOn ? elapsedSeconds : 0;
        if (seconds <= WATCH_SECONDS / 2) {
            firstHalfSum = valueSum;
        }
        if (seconds >= WATCH_SECONDS) {
            endWatching();
        }
    }

    private void endWatching() {
        double mean = valueSum / seconds;
        double drift = Math.abs(2 * (mean - firstHalfSum / (WATCH_SECONDS / 2)));
        if (Math.abs(mean - setPointCelsius) > SETTLED_KELVIN || drift > SETTLED_KELVIN) {
            fail("the cabinet is not settled: wait until it holds its set point");
            return;
        }
        isDriving = true;
        begin(mean, onSum / seconds);
    }

    /** One step, of the watching or of the test: what came and what the air did. */
    abstract void look(double celsius, double elapsedSeconds, boolean heaterWasOn);

    /** The watching is over: the value and the duty that it was held with. */
    abstract void begin(double celsius, double duty);

    /** One step in which the test says the duty. */
    abstract void drive(double celsius, boolean isTooWarm, double elapsedSeconds);

    /** The duty now, 0 to 1; only while {@link #isDriving}. */
    abstract double duty();

    /** What the test found; empty before its end and when it failed. */
    public abstract Optional<TestFinding> finding();

    /** Whether the test, not control, says the duty. */
    public final boolean isDriving() {
        return isDriving && !isOver();
    }

    /** Whether it has ended, well or not. */
    public final boolean isOver() {
        return failure.isPresent() || finding().isPresent();
    }

    /** Why it ended without a result; empty while it runs and after a good end. */
    public final Optional<String> failure() {
        return failure;
    }

    /** Ends it without a result. */
    public final void fail(String why) {
        if (!isOver()) {
            failure = Optional.of(why);
        }
    }

    /** What it is and how long it has run, for a person. */
    public final String words() {
        return name() + " test, " + (isDriving ? "" : "watching, ") + (int) (seconds / 60) + " min";
    }

    abstract String name();
}
