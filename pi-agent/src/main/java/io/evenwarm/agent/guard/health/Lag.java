package io.evenwarm.agent.guard.health;

/** A first-order lag, stepped once a block of {@value BlockMeans#SECONDS} s (backward Euler). */
final class Lag {

    private final double weight;
    private double value;
    private boolean hasValue;

    /**
     * @param timeConstantSeconds above 0
     */
    Lag(double timeConstantSeconds) {
        weight = BlockMeans.SECONDS / (timeConstantSeconds + BlockMeans.SECONDS);
    }

    /** Takes one block's value in, the first one as it is. Returns the lagged value. */
    double step(double input) {
        value += hasValue ? weight * (input - value) : input;
        hasValue = true;
        return value;
    }

    double value() {
        return value;
    }

    /** Goes on from here. */
    void set(double from) {
        value = from;
        hasValue = true;
    }
}
