package io.evenwarm.agent.guard.health;

/** A first-order lag, stepped once a block of {@value BlockMeans#SECONDS} s (backward Euler). */
final class Lag {

    private final double weight;
    private final boolean isFromMean;
    private double value;
    private boolean hasValue;
    private int steps;

    /**
     * @param timeConstantSeconds above 0
     */
    Lag(double timeConstantSeconds) {
        this(timeConstantSeconds, false);
    }

    /**
     * One that begins as the mean of all that it was given, until that is as long as the lag: so
     * that what the first block happened to be is soon forgotten.
     */
    static Lag fromMean(double timeConstantSeconds) {
        return new Lag(timeConstantSeconds, true);
    }

    private Lag(double timeConstantSeconds, boolean isFromMean) {
        this.isFromMean = isFromMean;
        weight = BlockMeans.SECONDS / (timeConstantSeconds + BlockMeans.SECONDS);
    }

    /** Takes one block's value in, the first one as it is. Returns the lagged value. */
    double step(double input) {
        value += hasValue ? weightNow() * (input - value) : input;
        hasValue = true;
        return value;
    }

    private double weightNow() {
        if (!isFromMean || 1.0 / (steps + 1) <= weight) {
            return weight;
        }
        steps++;
        return 1.0 / (steps + 1);
    }

    double value() {
        return value;
    }

    /** Goes on from here. */
    void set(double from) {
        value = from;
        hasValue = true;
    }

    /** All that it was given was in truth so much more. */
    void shift(double by) {
        value += by;
    }

    /** What is kept through a restart, of a lag that needs longer than one. */
    void learned(String name, LearnedRows rows) {
        double[] kept = {hasValue ? 1 : 0, value};
        rows.numbers(name, kept);
        hasValue = kept[0] == 1;
        value = kept[1];
    }
}
