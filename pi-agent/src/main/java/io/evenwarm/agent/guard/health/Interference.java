package io.evenwarm.agent.guard.health;

/** What may move the air, or keep the heater from heating, beside the heater itself. */
public enum Interference {
    NONE,
    /** The door is known to be open, or somebody works at the cabinet. */
    HANDS_INSIDE,
    /** Guard holds heat back by the cut-off relay: the heater's relay can't be judged. */
    HEAT_CUT,
    /**
     * The same to test that relay: whether heat still came is what the test asks, and no one may
     * suppose it.
     */
    RELAY_TESTED,
    /**
     * A tuning test changes the heat for longer than the relay's cycle does: what walls and tubs
     * add to the air's answer then was never learned.
     */
    HEAT_TRIED,
    /** The layers part too far to be taken for this cabinet's usual ones. */
    UNEVEN
}
