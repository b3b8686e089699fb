package io.evenwarm.agent.testing;

import io.evenwarm.agent.port.Output;
import io.evenwarm.clock.MonotonicClock;

/**
 * The hardware of hardware-notes/relay-enable.md behind a line: the relay is closed while the last
 * change of level is not older than the hold time, whatever the level is.
 */
public final class PulsedEnable implements Output {

    private final MonotonicClock clock;
    private final long holdNanos;
    private boolean level;
    private boolean isEverChanged;
    private long changedAtNanos;

    /**
     * Behind a line that is low.
     *
     * @param clock also of {@link #isClosed()}
     * @param holdNanos how long it stays closed after a change
     */
    public PulsedEnable(MonotonicClock clock, long holdNanos) {
        this.clock = clock;
        this.holdNanos = holdNanos;
    }

    @Override
    public void drive(boolean high) {
        if (high != level) {
            level = high;
            isEverChanged = true;
            changedAtNanos = clock.nanos();
        }
    }

    /** Whether current can flow through the relay now. */
    public boolean isClosed() {
        return isEverChanged && clock.nanos() - changedAtNanos < holdNanos;
    }

    /** The level of the line in front of it. */
    public boolean level() {
        return level;
    }

    @Override
    public void close() {
        drive(false);
    }
}
