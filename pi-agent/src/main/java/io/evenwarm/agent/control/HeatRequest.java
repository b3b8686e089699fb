package io.evenwarm.agent.control;

import io.evenwarm.quantity.Duty;

/**
 * What control wants in this tick.
 *
 * @param duty the duty that PID asks for
 * @param heatWanted whether the relay should be on now to make that duty
 */
public record HeatRequest(Duty duty, boolean heatWanted) {}
