package io.evenwarm.agent.guard;

/**
 * Heat that comes back each time that it is let through again, although nobody commands it: a
 * heater that is stuck on shows so even before anything was learned of the cabinet.
 */
final class HeldAgain {

    /** Commanded off, but for a cycle or two. */
    private static final double NO_HEAT_SHARE = 0.05;

    /** Holds in a row, each within this time of the last, that can't be chance. */
    private static final int TELLING_HOLDS = 3;

    private static final long NEXT_WITHIN_NANOS = 3_600_000_000_000L;

    /** Without another hold for so long it is over. */
    private static final long FORGOTTEN_AFTER_NANOS = 4 * NEXT_WITHIN_NANOS;

    private boolean wasHolding;
    private int holds;
    private long lastHoldNanos;

    /**
     * Takes a tick in.
     *
     * @param isHolding whether heat is held back for too much warmth
     * @param heatShare of the last minutes in which the heater was commanded on
     */
    void update(boolean isHolding, double heatShare, long nowNanos) {
        long since = nowNanos - lastHoldNanos;
        if (isHolding && !wasHolding && heatShare < NO_HEAT_SHARE) {
            holds = since < NEXT_WITHIN_NANOS || isTelling() ? holds + 1 : 1;
            lastHoldNanos = nowNanos;
        } else if (since > (isTelling() ? FORGOTTEN_AFTER_NANOS : NEXT_WITHIN_NANOS)) {
            holds = 0;
        }
        wasHolding = isHolding;
    }

    private boolean isTelling() {
        return holds >= TELLING_HOLDS;
    }

    /** Whether the heater seems stuck on. */
    boolean isStuckOn() {
        return isTelling();
    }
}
