package io.evenwarm.monitor.evenness;

import java.util.List;
import java.util.function.Function;

/** What a comparison of two surveys came to. */
public sealed interface ComparisonResult {

    /** Handles every case. */
    <R> R fold(Function<Compared, R> compared, Function<Withheld, R> withheld);

    /**
     * There is an answer.
     *
     * @param answer by the gradient
     * @param sentence better, worse or not distinguishable, by how much, and what to do
     * @param changes of the figures, the gradient's first
     */
    record Compared(FigureChange.Answer answer, String sentence, List<FigureChange> changes)
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
