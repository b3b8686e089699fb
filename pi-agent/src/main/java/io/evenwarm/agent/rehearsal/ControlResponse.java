package io.evenwarm.agent.rehearsal;

import java.util.OptionalDouble;

/**
 * How control held the set point in a rehearsal, by the process value as the agent has it: probe
 * lag, noise, rounding and the relay's swing included, and whatever went wrong.
 *
 * @param reachedAtSeconds when the set point was first reached, s; empty when never, or before the
 *     scenario began
 * @param overshootKelvin how far above the set point it came since, K; empty when it was never
 *     reached
 * @param worstMeanKelvin the 10-minute mean farthest from the set point, from six hours after it
 *     was reached, K; empty when the scenario ended before
 */
public record ControlResponse(
        OptionalDouble reachedAtSeconds,
        OptionalDouble overshootKelvin,
        OptionalDouble worstMeanKelvin) {}
