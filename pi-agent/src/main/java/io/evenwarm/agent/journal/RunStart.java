package io.evenwarm.agent.journal;

import io.evenwarm.message.Moment;
import java.util.Optional;

/**
 * What else than the journal tells of this run's start.
 *
 * @param machineBoot what the kernel calls the boot that the machine is in; empty where it does not
 * @param earlier what the run before left outside the journal
 */
public record RunStart(Optional<String> machineBoot, Optional<Earlier> earlier) {

    /** Nothing does. */
    public static final RunStart UNKNOWN = new RunStart(Optional.empty(), Optional.empty());

    /**
     * A note of an earlier run.
     *
     * @param machineBoot the machine's boot that it ran on
     * @param hasEnded whether somebody ended it
     * @param lastAlive when the note was written; empty when it doesn't say
     */
    public record Earlier(
            Optional<String> machineBoot, boolean hasEnded, Optional<Moment> lastAlive) {}
}
