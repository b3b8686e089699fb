package io.evenwarm.agent.journal;

import java.util.Optional;
import java.util.function.Function;

/** Whether the journal is being written. */
public sealed interface JournalHealth {

    /** Handles every case. */
    <R> R fold(Function<Working, R> working, Function<Failing, R> failing);

    /** What is wrong, in plain words; empty while it works. */
    default Optional<String> trouble() {
        return fold(working -> Optional.empty(), failing -> Optional.of(failing.words()));
    }

    /** It is written. */
    record Working() implements JournalHealth {
        @Override
        public <R> R fold(Function<Working, R> working, Function<Failing, R> failing) {
            return working.apply(this);
        }
    }

    /**
     * It is not, or a part of it is lost; the agent runs on and tries again by itself.
     *
     * @param words what was found, and what to do, for a person
     */
    record Failing(String words) implements JournalHealth {
        @Override
        public <R> R fold(Function<Working, R> working, Function<Failing, R> failing) {
            return failing.apply(this);
        }
    }
}
