package io.evenwarm.agent.guard;

/**
 * Holds heat back from the moment that a cause for it shows until none has shown for a while, so
 * that a cause which comes and goes does not make the cut-off relay chatter.
 */
final class HeatHold {

    /** Heat comes back once nothing has spoken against it for this long. */
    static final long QUIET_NANOS = 5_000_000_000L;

    private boolean isHolding = true;
    private boolean isQuiet;
    private long quietSinceNanos;

    /** Returns whether heat is held back now; it is at first. */
    boolean update(boolean isCauseThere, long nowNanos) {
        if (isCauseThere) {
            isHolding = true;
            isQuiet = false;
        } else if (isHolding) {
            if (!isQuiet) {
                isQuiet = true;
                quietSinceNanos = nowNanos;
            }
            isHolding = nowNanos - quietSinceNanos < QUIET_NANOS;
        }
        return isHolding;
    }
}
