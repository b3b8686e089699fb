package io.evenwarm.monitor.evenness;

import java.util.function.Function;

/** What is known of a cabinet's fan. */
public sealed interface FanState {

    /** Handles every case. */
    <R> R fold(
            Function<Learning, R> learning,
            Function<Steady, R> steady,
            Function<Weak, R> weak,
            Function<Stopped, R> stopped);

    /**
     * The cabinet is not known yet.
     *
     * @param daysLeft quiet days that are still needed
     */
    record Learning(int daysLeft) implements FanState {
        @Override
        public <R> R fold(
                Function<Learning, R> learning,
                Function<Steady, R> steady,
                Function<Weak, R> weak,
                Function<Stopped, R> stopped) {
            return learning.apply(this);
        }
    }

    /**
     * It moves the air as it did when the cabinet was learned.
     *
     * @param flowShare of the flow then, about
     */
    record Steady(double flowShare) implements FanState {
        @Override
        public <R> R fold(
                Function<Learning, R> learning,
                Function<Steady, R> steady,
                Function<Weak, R> weak,
                Function<Stopped, R> stopped) {
            return steady.apply(this);
        }
    }

    /**
     * It moves less air than it did.
     *
     * @param sinceMillis the day on which it was called, milliseconds since the epoch
     * @param flowShare of the flow when the cabinet was learned, about
     * @param moreKelvin how much further top and bottom are apart than the heat explains
     */
    record Weak(long sinceMillis, double flowShare, double moreKelvin) implements FanState {
        @Override
        public <R> R fold(
                Function<Learning, R> learning,
                Function<Steady, R> steady,
                Function<Weak, R> weak,
                Function<Stopped, R> stopped) {
            return weak.apply(this);
        }
    }

    /**
     * It stands still.
     *
     * @param sinceMillis begin of the stretches that say so, milliseconds since the epoch
     * @param moreKelvin how much further top and bottom are apart than the heat explains
     */
    record Stopped(long sinceMillis, double moreKelvin) implements FanState {
        @Override
        public <R> R fold(
                Function<Learning, R> learning,
                Function<Steady, R> steady,
                Function<Weak, R> weak,
                Function<Stopped, R> stopped) {
            return stopped.apply(this);
        }
    }
}
