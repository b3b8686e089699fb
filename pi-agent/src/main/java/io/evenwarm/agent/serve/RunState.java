package io.evenwarm.agent.serve;

import io.evenwarm.message.PreviousRun;
import java.time.Instant;
import java.util.Optional;

/** What sessions tell of this run of the agent, and hear for it. Any thread. */
public interface RunState {

    /** Of an agent that knows nothing of an earlier run and needs no time. */
    RunState NONE =
            new RunState() {
                @Override
                public Optional<PreviousRun> previousRun() {
                    return Optional.empty();
                }

                @Override
                public Optional<String> clockWords() {
                    return Optional.empty();
                }

                @Override
                public void timeTold(String by, Instant wall, long askedAtNanos) {}
            };

    /** How the run before ended. */
    Optional<PreviousRun> previousRun();

    /** Whether the wall clock is right and who says so, for a person. */
    Optional<String> clockWords();

    /**
     * A monitor that may operate has answered what time it is.
     *
     * @param by its name
     * @param wall its wall clock
     * @param askedAtNanos when it was asked, on the agent's monotonic clock
     */
    void timeTold(String by, Instant wall, long askedAtNanos);
}
