package io.evenwarm.agent.guard;

/**
 * Guard's leave to heat. It lapses by itself.
 *
 * @param isGiven whether heat is allowed at all
 * @param untilNanos monotonic time from which it counts for nothing
 */
public record HeatGrant(boolean isGiven, long untilNanos) {

    /** No heat. */
    public static final HeatGrant NONE = new HeatGrant(false, 0);

    static HeatGrant until(long untilNanos) {
        return new HeatGrant(true, untilNanos);
    }

    /** Whether it counts at {@code nowNanos}. */
    public boolean holdsAt(long nowNanos) {
        return isGiven && untilNanos - nowNanos > 0;
    }
}
