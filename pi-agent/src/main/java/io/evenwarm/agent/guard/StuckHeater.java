package io.evenwarm.agent.guard;

import io.evenwarm.agent.cabinet.CabinetState;

/**
 * Holds heat back, and with it the cut-off relay open, while a heater that does not obey has made
 * the cabinet too warm, and lets go when it has cooled: what its own relay no longer does. Without
 * it the cabinet would climb to the cut-off, whose latch then lets it go cold until a person comes.
 */
final class StuckHeater {

    /** Opens so far above the set point. */
    static final double WARM_KELVIN = 0.6;

    /** Closes so far below it: few operations for a relay that must stay sound. */
    static final double COOL_KELVIN = 0.4;

    private boolean isHolding;

    /** Returns whether heat is to be held back now. */
    boolean update(boolean isStuckOn, CabinetState state, double setPointCelsius) {
        if (!isStuckOn) {
            isHolding = false;
        } else if (!state.isBlind()) {
            double warmest = state.celsius(state.warmestAir());
            isHolding =
                    isHolding
                            ? state.processCelsius() > setPointCelsius - COOL_KELVIN
                            : warmest > setPointCelsius + WARM_KELVIN;
        }
        return isHolding;
    }
}
