package io.evenwarm.message;

import io.evenwarm.quantity.Temperature;

/**
 * The limits that an agent keeps for one cabinet.
 *
 * @param tooCold below this the air is too cold
 * @param tooWarm above this the air is too warm
 * @param cutOff at or above this the guard's hard cut-off trips
 * @param ceiling what the eggs must never pass; no command can put a limit above it
 */
public record Limits(
        Temperature tooCold, Temperature tooWarm, Temperature cutOff, Temperature ceiling) {}
