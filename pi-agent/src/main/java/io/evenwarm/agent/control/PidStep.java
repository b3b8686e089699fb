package io.evenwarm.agent.control;

/**
 * What a {@link Pid}'s step gives.
 *
 * @param output u, 0 to 1
 * @param unlimited v, what the output would be without its limits
 * @param state to hand to the next step
 */
record PidStep(double output, double unlimited, PidState state) {}
