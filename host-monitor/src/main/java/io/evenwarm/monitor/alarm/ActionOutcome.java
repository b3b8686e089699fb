package io.evenwarm.monitor.alarm;

import java.util.List;
import java.util.function.Function;

/** What came of a person's action. */
public sealed interface ActionOutcome {

    /** Handles every case. */
    <R> R fold(Function<Done, R> done, Function<Refused, R> refused);

    /** It counts. */
    record Done(List<AlarmChange> changes) implements ActionOutcome {

        public Done {
            changes = List.copyOf(changes);
        }

        @Override
        public <R> R fold(Function<Done, R> done, Function<Refused, R> refused) {
            return done.apply(this);
        }
    }

    /**
     * Nothing changed.
     *
     * @param why what was found and what is allowed, for the person
     */
    record Refused(String why) implements ActionOutcome {
        @Override
        public <R> R fold(Function<Done, R> done, Function<Refused, R> refused) {
            return refused.apply(this);
        }
    }
}
