package io.evenwarm.agent.guard;

import io.evenwarm.agent.cabinet.CabinetState;

/**
 * Holds heat back, without a latch, when the warmest believed air comes near the cut-off, or will
 * at the pace it has: a heater that overshoots after an open door, or a still fan's hot top, should
 * cost minutes of heat and not a tripped cut-off that lets the eggs go cold until a person comes.
 */
final class NearCutOff {

    /**
     * So far below the cut-off, K, and never more than a quarter of its distance to the set point.
     */
    static final double DISTANCE_KELVIN = 0.5;

    private static final double MOST_SHARE = 0.25;
    private static final double DEAD_BAND_KELVIN = 0.2;

    /**
     * How far ahead it looks, s: what a probe lags behind the air, and an element goes on giving
     * heat after it was switched off (common practice, no source: half a minute for a sheathed
     * probe in moving air).
     */
    private static final double AHEAD_SECONDS = 30;

    private final Pace pace = new Pace();
    private boolean isHolding;

    /** Returns whether heat is to be held back now. */
    boolean update(
            CabinetState state,
            double setPointCelsius,
            double cutOffCelsius,
            double elapsedSeconds) {
        if (state.isBlind()) {
            pace.restart();
            return isHolding;
        }
        double warmest = state.celsius(state.warmestAir());
        pace.take(warmest, elapsedSeconds);
        double distance = Math.min(DISTANCE_KELVIN, MOST_SHARE * (cutOffCelsius - setPointCelsius));
        double limit = cutOffCelsius - distance;
        double soon = warmest + AHEAD_SECONDS * Math.max(0, pace.kelvinPerSecond());
        isHolding = soon > limit - (isHolding ? DEAD_BAND_KELVIN : 0);
        return isHolding;
    }

    /**
     * How fast a value moves: the difference of two first-order means of it, which on a ramp lag
     * behind by their time constants.
     */
    private static final class Pace {

        private static final double QUICK_SECONDS = 4;
        private static final double SLOW_SECONDS = 20;

        private double quick = Double.NaN;
        private double slow = Double.NaN;

        void restart() {
            quick = Double.NaN;
        }

        void take(double value, double elapsedSeconds) {
            if (Double.isNaN(quick)) {
                quick = value;
                slow = value;
                return;
            }
            quick += (value - quick) * Math.min(1, elapsedSeconds / QUICK_SECONDS);
            slow += (value - slow) * Math.min(1, elapsedSeconds / SLOW_SECONDS);
        }

        double kelvinPerSecond() {
            return (quick - slow) / (SLOW_SECONDS - QUICK_SECONDS);
        }
    }
}
