package io.evenwarm.agent.guard;

/**
 * Guard's leave to heat. It lapses by itself.
 *
 * @param isGiven whether heat is allowed at all
 * @param isCutOffOpen whether the cut-off relay stays open all the same, to test it: the heater's
 *     line then follows control's wish and no heat should come
 * @param untilNanos monotonic time from which it counts for nothing
 */
public record HeatGrant(boolean isGiven, boolean isCutOffOpen, long untilNanos) {

    /** No heat. */
    public static final HeatGrant NONE = new HeatGrant(false, true, 0);

    static HeatGrant until(long untilNanos) {
        return new HeatGrant(true, false, untilNanos);
    }

    /** The same with the cut-off relay open. */
    HeatGrant withCutOffOpen() {
        return new HeatGrant(isGiven, true, untilNanos);
    }

    /** Whether it counts at {@code nowNanos}. */
    public boolean holdsAt(long nowNanos) {
        return isGiven && untilNanos - nowNanos > 0;
    }
}
