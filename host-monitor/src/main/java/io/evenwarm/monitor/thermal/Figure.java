package io.evenwarm.monitor.thermal;

import java.util.function.Function;

/** A constant of a cabinet, or why it has none yet. */
public sealed interface Figure {

    /** Handles every case. */
    <R> R fold(Function<Known, R> known, Function<NotKnown, R> notKnown);

    /**
     * The data tell it.
     *
     * @param value in the unit that its place names
     * @param low lower end of the 95 % interval; not above the value
     * @param high upper end; not below the value
     */
    record Known(double value, double low, double high) implements Figure {

        public Known {
            if (!Double.isFinite(value) || !(low <= value) || !(high >= value)) {
                throw new IllegalArgumentException(
                        "no figure: " + value + " in " + low + " to " + high);
            }
        }

        @Override
        public <R> R fold(Function<Known, R> known, Function<NotKnown, R> notKnown) {
            return known.apply(this);
        }

        /** Whether a value lies in the interval. */
        public boolean holds(double truth) {
            return truth >= low && truth <= high;
        }

        Known times(double factor) {
            return new Known(value * factor, low * factor, high * factor);
        }
    }

    /**
     * The data don't tell it.
     *
     * @param reason what is missing, for a person
     * @param whatWouldTell what a person can do so that it becomes known
     */
    record NotKnown(String reason, String whatWouldTell) implements Figure {
        @Override
        public <R> R fold(Function<Known, R> known, Function<NotKnown, R> notKnown) {
            return notKnown.apply(this);
        }
    }
}
