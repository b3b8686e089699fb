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

    Persistence(double onDelaySeconds, double offDelaySeconds) {
        onDelayNanos = (long) (onDelaySeconds * NANOS_PER_SECOND);
        offDelayNanos = (long) (offDelaySeconds * NANOS_PER_SECOND);
    }

    /** Whether the condition counts as present now. */
    boolean update(Presence presence, long nowNanos) {
        boolean wantsChange = isRaised ? presence == Presence.ABSENT : presence == Presence.PRESENT;
        if (!wantsChange) {
            isChanging = false;
            return isRaised;
        }
        if (!isChanging) {
            isChanging = true;
            changingSinceNanos = nowNanos;
        }
        long delayNanos = isRaised ? offDelayNanos : onDelayNanos;
        if (nowNanos - changingSinceNanos >= delayNanos) {
            isRaised = !isRaised;
            isChanging = false;
            presentSinceNanos = changingSinceNanos;
        }
        return isRaised;
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
