package io.evenwarm.monitor.history;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.FindingCode;
import java.time.Instant;
import java.util.Optional;

/**
 * One line of the log: something that held for a while, or that happened once.
 *
 * @param cabinet empty when it is about the agent itself
 * @param code the finding's code; empty when it is an event without one
 * @param begin since when
 * @param end until when; empty while it still holds. Equal to {@code begin} for what happened once
 * @param words what, in plain words; temperatures in Celsius as the agent wrote them
 */
public record LogEntry(
        AgentName agent,
        Optional<CabinetName> cabinet,
        Optional<FindingCode> code,
        Instant begin,
        Optional<Instant> end,
        String words) {

    /** How the words about a clock that was set begin; a run of an agent has one such line. */
    public static final String CLOCK_SET = "clock set: ";
}
