package io.evenwarm.agent.guard;

import io.evenwarm.agent.cabinet.CabinetState;

/**
 * Holds heat back, without a latch, when the warmest believed air comes near the cut-off: a heater
 * that overshoots after an open door, or a still fan's hot top, should cost minutes of heat and not
 * a tripped cut-off that lets the eggs go cold until a person comes.
 */
final class NearCutOff {

    /**
     * So far below the cut-off, K, and never more than a quarter of its distance to the set point.
     */
    static final double DISTANCE_KELVIN = 0.5;

    private static final double MOST_SHARE = 0.25;
    private static final double DEAD_BAND_KELVIN = 0.2;

    private boolean isHolding;

    /** Returns whether heat is to be held back now. */
    boolean update(CabinetState state, double setPointCelsius, double cutOffCelsius) {
        if (state.isBlind()) {
            return isHolding;
        }
        double distance = Math.min(DISTANCE_KELVIN, MOST_SHARE * (cutOffCelsius - setPointCelsius));
        double limit = cutOffCelsius - distance;
        isHolding = state.celsius(state.warmestAir()) > limit - (isHolding ? DEAD_BAND_KELVIN : 0);
        return isHolding;
    }
}
