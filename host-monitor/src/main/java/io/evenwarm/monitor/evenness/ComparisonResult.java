package io.evenwarm.monitor.evenness;

import java.util.List;
import java.util.Optional;
import java.util.function.Function;

/** What a comparison of two surveys came to. */
public sealed interface ComparisonResult {

    /** Handles every case. */
    <R> R fold(Function<Compared, R> compared, Function<Withheld, R> withheld);

    /**
     * There is an answer.
     *
     * @param answer by the temperature's gradient
     * @param sentence better, worse or not distinguishable, by how much, and what to do
     * @param changes of the figures, the temperature's gradient first; humidity's last
     * @param whyNoHumidity why those of humidity are missing, where it was measured at all
     */
    record Compared(
            FigureChange.Answer answer,
            String sentence,
            List<FigureChange> changes,
            Optional<String> whyNoHumidity)
            implements ComparisonResult {

        public Compared {
            changes = List.copyOf(changes);
        }

        @Override
        public <R> R fold(Function<Compared, R> compared, Function<Withheld, R> withheld) {
            return compared.apply(this);
        }
    }

    /** There is none, rather than one that was guessed. */
    record Withheld(List<Reason> reasons) implements ComparisonResult {

        public Withheld {
            reasons = List.copyOf(reasons);
        }

        @Override
        public <R> R fold(Function<Compared, R> compared, Function<Withheld, R> withheld) {
            return withheld.apply(this);
        }
    }
}
