package io.evenwarm.monitor.evenness;

import java.util.List;
import java.util.Optional;
import java.util.function.Function;

/** What a survey came to. */
public sealed interface SurveyResult {

    /** Handles every case. */
    <R> R fold(Function<Surveyed, R> surveyed, Function<Withheld, R> withheld);

    /**
     * There are figures.
     *
     * @param settledWords which part of the span had settled, and why that part, for a person
     * @param humidity the same of humidity, where it was measured at three points or more
     * @param recovery how long the cabinet took to settle after the door was opened on purpose
     * @param bridging how places that were measured at different times are compared; empty where no
     *     probe was moved
     */
    record Surveyed(
            SettledPart settled,
            String settledWords,
            EvennessFigures temperature,
            Optional<EvennessFigures> humidity,
            Optional<Recovery> recovery,
            Optional<Bridging> bridging)
            implements SurveyResult {
        @Override
        public <R> R fold(Function<Surveyed, R> surveyed, Function<Withheld, R> withheld) {
            return surveyed.apply(this);
        }
    }

    /** There are none, rather than some that were guessed. */
    record Withheld(List<Reason> reasons) implements SurveyResult {

        public Withheld {
            reasons = List.copyOf(reasons);
            if (reasons.isEmpty()) {
                throw new IllegalArgumentException("a verdict is withheld for a reason");
            }
        }

        @Override
        public <R> R fold(Function<Surveyed, R> surveyed, Function<Withheld, R> withheld) {
            return withheld.apply(this);
        }
    }
}
