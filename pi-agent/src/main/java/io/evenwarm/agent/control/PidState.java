package io.evenwarm.agent.control;

/**
 * What a {@link Pid} remembers from one step to the next.
 *
 * @param integral I, in units of the output
 * @param derivative D, in units of the output
 * @param measured y of the step before
 */
record PidState(double integral, double derivative, double measured) {

    /**
     * The state before a first step: as if the measurement had always been what it is now, so that
     * the derivative starts at 0.
     */
    static PidState startingAt(double integral, double measured) {
        return new PidState(integral, 0, measured);
    }

    PidState withIntegral(double other) {
        return new PidState(other, derivative, measured);
    }
}
