package io.evenwarm.agent.guard;

/**
 * On-delay and off-delay of one condition: it is raised once it has been present for the whole
 * on-delay, and dropped once it has been absent for the whole off-delay. At exactly the delay it
 * changes. While nothing is known of the condition, nothing changes and no time counts.
 *
 * <p>As alarms are delayed in OPC UA Part 9, annex B.1.5.
 */
final class Persistence {

    private static final double NANOS_PER_SECOND = 1e9;

    private final long onDelayNanos;
    private final long offDelayNanos;
    private boolean isRaised;
    private boolean isChanging;
    private long changingSinceNanos;
    private long presentSinceNanos;
    private long lastNanos;
    private long headStartNanos;

    Persistence(double onDelaySeconds, double offDelaySeconds) {
        onDelayNanos = (long) (onDelaySeconds * NANOS_PER_SECOND);
        offDelayNanos = (long) (offDelaySeconds * NANOS_PER_SECOND);
    }

    /** Whether the condition counts as present now. */
    boolean update(Presence presence, long nowNanos) {
        lastNanos = nowNanos;
        boolean wantsChange = isRaised ? presence == Presence.ABSENT : presence == Presence.PRESENT;
        if (!wantsChange) {
            isChanging = false;
            headStartNanos = presence == Presence.UNKNOWN ? headStartNanos : 0;
            return isRaised;
        }
        if (!isChanging) {
            isChanging = true;
            changingSinceNanos = nowNanos;
        }
        long delayNanos = isRaised ? offDelayNanos : onDelayNanos;
        if (nowNanos - changingSinceNanos + headStartNanos >= delayNanos) {
            isRaised = !isRaised;
            headStartNanos = 0;
            isChanging = false;
            presentSinceNanos = changingSinceNanos;
        }
        return isRaised;
    }

    /** For how long the condition has been present, s; the whole on-delay while raised. */
    double presentSeconds() {
        long nanos = headStartNanos + (isChanging ? lastNanos - changingSinceNanos : 0);
        return (isRaised ? onDelayNanos : nanos) / NANOS_PER_SECOND;
    }

    /**
     * Goes on from a time before a restart: when the condition is present as soon as something is
     * known of it, it has been so for this long.
     *
     * @param seconds as {@link #presentSeconds} gave it; what is beyond the on-delay, or below 0,
     *     counts as the nearest of them
     */
    void resume(double seconds) {
        headStartNanos = Math.max(0, Math.min(onDelayNanos, (long) (seconds * NANOS_PER_SECOND)));
    }

    boolean isRaised() {
        return isRaised;
    }

    /** When the condition began, while raised. */
    long presentSinceNanos() {
        return presentSinceNanos;
    }

    /** What one look says about a condition. */
    enum Presence {
        PRESENT,
        ABSENT,
        UNKNOWN;

        static Presence of(boolean isPresent) {
            return isPresent ? PRESENT : ABSENT;
        }
    }
}
