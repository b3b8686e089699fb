package io.evenwarm.agent.guard;

import java.util.List;

/**
 * What guard is told of a tick beside the readings.
 *
 * @param secondsSinceLastTick 0 in the first tick
 * @param wasHeaterOn whether the heater was energised since the last tick
 * @param lineFaults the lines that could not be driven since the last tick; empty when all could
 * @param unsaved what could not be written to the state folder, in plain words; empty when all
 *     could
 * @param internalFault what went wrong inside the agent in the last tick; empty when nothing did
 */
public record TickFacts(
        double secondsSinceLastTick,
        boolean wasHeaterOn,
        List<LineFault> lineFaults,
        String unsaved,
        String internalFault) {

    /** A tick on time with nothing wrong. */
    public static final TickFacts QUIET = new TickFacts(1, false, List.of(), "", "");

    public TickFacts {
        lineFaults = List.copyOf(lineFaults);
    }
}
