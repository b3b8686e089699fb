package io.evenwarm.monitor.evenness;

import java.util.Optional;

/**
 * How a figure changed from one survey to the next.
 *
 * @param measure what it is of
 * @param before as it was then, with how well the readings know it
 * @param after as it is now
 * @param change after − before, corrected where that was possible
 * @param correction what was added to after − before so that both are of the same room; empty where
 *     it could not be known
 */
public record FigureChange(
        Measure measure,
        Figure figure,
        Estimate before,
        Estimate after,
        Estimate change,
        Optional<Correction> correction) {

    /** Which figure. Of each, less is better. */
    public enum Figure {
        GRADIENT("gradient"),
        VARIATION_IN_SPACE("variation in space"),
        TOP_MINUS_BOTTOM("top minus bottom, in size"),
        /** From the set point; of humidity, from the mean of all points. */
        DEVIATION("deviation from the set point"),
        FLUCTUATION("fluctuation in half an hour");

        private final String words;

        Figure(String words) {
            this.words = words;
        }

        public String words() {
            return words;
        }
    }

    /** Its name, for a person. */
    public String name() {
        if (measure == Measure.TEMPERATURE) {
            return "Change of " + figure.words();
        }
        return "Change of humidity "
                + (figure == Figure.DEVIATION ? "deviation from the mean" : figure.words());
    }

    public enum Answer {
        BETTER,
        WORSE,
        NOT_DISTINGUISHABLE
    }

    /**
     * For heat that both surveys lost unequally.
     *
     * @param by what the surveys differ in
     * @param difference of it, after − before: K to the room, or duty
     * @param amount added to after − before, in the figure's unit
     * @param isMeasured whether the surveys' own readings show the dependence; else it was taken to
     *     be in proportion, give or take all of it
     */
    public record Correction(By by, double difference, double amount, boolean isMeasured) {

        public enum By {
            DIFFERENCE_TO_ROOM,
            DUTY
        }
    }

    public Answer answer() {
        if (!change.isBeyondZero()) {
            return Answer.NOT_DISTINGUISHABLE;
        }
        return change.value() < 0 ? Answer.BETTER : Answer.WORSE;
    }
}
