package io.evenwarm.message;

import java.util.function.Function;

/** What became of a command. */
public sealed interface CommandOutcome {

    /** In plain words, for the person who asked. */
    String words();

    /** Handles every case. */
    <R> R fold(Function<Done, R> done, Function<Refused, R> refused);

    /** It was done. */
    record Done(String words) implements CommandOutcome {
        @Override
        public <R> R fold(Function<Done, R> done, Function<Refused, R> refused) {
            return done.apply(this);
        }
    }

    /** It was not done; the words say why. */
    record Refused(String words) implements CommandOutcome {
        @Override
        public <R> R fold(Function<Done, R> done, Function<Refused, R> refused) {
            return refused.apply(this);
        }
    }
}
