package io.evenwarm.agent.guard;

/**
 * A line could not be driven.
 *
 * @param found what the driver said, in plain words
 */
public record LineFault(Line line, String found) {}
