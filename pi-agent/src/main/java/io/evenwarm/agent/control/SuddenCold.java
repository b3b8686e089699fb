package io.evenwarm.agent.control;

/**
 * Notices when the air gets cold faster than a shut cabinet can, and when it is warm again.
 *
 * <p>Behind an open door the probes feel the room at once, while walls, shelves and eggs have lost
 * next to nothing, and more heat would only warm the room. Worse, it would be stored: a heater at
 * full power holds some minutes of its own power, and gives it to the air when the door is shut. So
 * control goes on with the duty that held the cabinet before, until the air has come back by
 * itself. After half an hour it may have a little more, so that a cabinet which is cold for another
 * reason comes back too.
 *
 * <p>The same holds from the first moment where a door is known to be open, from a switch or
 * because somebody said so, however slowly the air falls: a warm room hides it from the probes.
 *
 * <p>Two averages that forget at different pace stand for the speed: while the value falls at a
 * steady rate they part by the rate times the difference of their time constants. A shut cabinet
 * with its heater off loses at most about 0.25 K a minute; what parts them enough here is 0.5.
 *
 * <p>Called by the control thread only.
 */
final class SuddenCold {

    static final double FAST_SECONDS = 10;
    static final double SLOW_SECONDS = 60;

    /** The averages part by this much when the air falls by 0.5 K a minute. */
    static final double FALLING_KELVIN = 0.42;

    /** Steady again: slower than 0.2 K a minute. */
    static final double STEADY_KELVIN = 0.17;

    /** Share of the fall that must have come back by itself, and how much at least. */
    static final double RETURNED_SHARE = 0.3;

    static final double RETURNED_KELVIN = 0.25;

    /** Longer than any work at an open cabinet should take; it may be cold for another reason. */
    static final double LONGEST_SECONDS = 1800;

    /** By then the air of a shut cabinet would have come back with what it may have. */
    static final double WARY_SECONDS = 4 * 3600.0;

    /**
     * What a door left open may get beyond the duty that held the cabinet. Full power would heat
     * the element for the room, and drive the air past the cut-off when somebody shuts the door.
     */
    static final double EXTRA_DUTY = 0.25;

    private boolean isFresh = true;
    private double fast;
    private double slow;
    private boolean isWary;
    private boolean wasOpen;
    private double heldSeconds;
    private double from;
    private double lowest;

    /**
     * Whether control should go on with the duty that it had before.
     *
     * @param isOpen whether the door is known to be open
     */
    boolean step(double celsius, double setPointCelsius, boolean isOpen, double elapsedSeconds) {
        if (isFresh) {
            isFresh = false;
            fast = celsius;
            slow = celsius;
        }
        fast += (celsius - fast) * elapsedSeconds / (FAST_SECONDS + elapsedSeconds);
        slow += (celsius - slow) * elapsedSeconds / (SLOW_SECONDS + elapsedSeconds);
        if (isWary) {
            heldSeconds += elapsedSeconds;
            lowest = Math.min(lowest, fast);
            double returned = Math.max(RETURNED_KELVIN, RETURNED_SHARE * (from - lowest));
            boolean hasFallen = from - lowest >= FALLING_KELVIN;
            boolean isBack =
                    hasFallen ? fast - lowest >= returned && fast - slow < STEADY_KELVIN : wasOpen;
            isWary = (isOpen || !isBack) && heldSeconds < WARY_SECONDS && celsius < setPointCelsius;
        } else if ((isOpen || slow - fast > FALLING_KELVIN) && celsius < setPointCelsius) {
            isWary = true;
            heldSeconds = 0;
            from = slow;
            lowest = fast;
        }
        wasOpen = isOpen;
        return isWary && heldSeconds < LONGEST_SECONDS;
    }

    /** Whether more than the usual duty must be limited, to {@link #EXTRA_DUTY} beyond it. */
    boolean isWary() {
        return isWary;
    }

    /** Forgets what was: the next value is the first. */
    void restart() {
        isFresh = true;
        isWary = false;
        wasOpen = false;
    }
}
