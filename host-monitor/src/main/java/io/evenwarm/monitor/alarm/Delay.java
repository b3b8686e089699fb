package io.evenwarm.monitor.alarm;

/**
 * On-delay and off-delay of one condition: it is raised once it has been present for the whole
 * on-delay, and dropped once it has been absent for the whole off-delay; at exactly the delay it
 * changes. While nothing is known of the condition nothing changes, and the delay begins anew.
 *
 * <p>As alarms are delayed in OPC UA Part 9 v1.05, annex B.1.5.
 *
 * @param isRaised whether the condition counts as present
 * @param isChanging whether a delay runs
 * @param changingSinceNanos monotonic time since when; 0 while none runs
 * @param presentSinceNanos monotonic time at which the condition began, while raised
 */
public record Delay(
        boolean isRaised, boolean isChanging, long changingSinceNanos, long presentSinceNanos) {

    static final Delay AT_REST = new Delay(false, false, 0, 0);

    /**
     * After one more look.
     *
     * @param beganNanos since when the condition has been there, where a look finds it anew: what
     *     an agent has found may have begun before it was heard of
     */
    Delay after(
            Presence presence,
            long onDelayNanos,
            long offDelayNanos,
            long beganNanos,
            long nowNanos) {
        boolean wantsChange = isRaised ? presence == Presence.ABSENT : presence == Presence.PRESENT;
        if (!wantsChange) {
            return interrupted();
        }
        long since = isChanging ? changingSinceNanos : nowNanos;
        if (nowNanos - since < (isRaised ? offDelayNanos : onDelayNanos)) {
            return isChanging ? this : new Delay(isRaised, true, since, presentSinceNanos);
        }
        return isRaised
                ? AT_REST
                : new Delay(true, false, 0, beganNanos - since < 0 ? beganNanos : since);
    }

    /** The same without a delay that runs: nobody has looked for a while. */
    Delay interrupted() {
        return isChanging ? new Delay(isRaised, false, 0, presentSinceNanos) : this;
    }

    /** On another monotonic clock, by which everything is {@code byNanos} later. */
    Delay shifted(long byNanos) {
        return new Delay(
                isRaised,
                isChanging,
                isChanging ? changingSinceNanos + byNanos : 0,
                isRaised ? presentSinceNanos + byNanos : 0);
    }
}
