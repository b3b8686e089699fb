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
 * @param signs door, fan, clock, and whether somebody works at the cabinet
 */
public record TickFacts(
        double secondsSinceLastTick,
        boolean wasHeaterOn,
        List<LineFault> lineFaults,
        String unsaved,
        String internalFault,
        Signs signs) {

    /** A tick on time with nothing wrong. */
    public static final TickFacts QUIET = new TickFacts(1, false, List.of(), "", "");

    public TickFacts {
        lineFaults = List.copyOf(lineFaults);
    }

    /** With {@link Signs#QUIET}. */
    public TickFacts(
            double secondsSinceLastTick,
            boolean wasHeaterOn,
            List<LineFault> lineFaults,
            String unsaved,
            String internalFault) {
        this(secondsSinceLastTick, wasHeaterOn, lineFaults, unsaved, internalFault, Signs.QUIET);
    }
}
