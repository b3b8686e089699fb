package io.evenwarm.agent.driver.pi4j;

import io.evenwarm.agent.port.Contact;
import io.evenwarm.clock.MonotonicClock;
import java.util.Optional;
import java.util.concurrent.TimeUnit;

/**
 * A contact without its bounce: a level counts once it has stood for 30 ms (contacts bounce for a
 * few, common practice).
 *
 * <p>Levels come from the library's thread, questions from the control thread.
 */
final class GpioContact implements Contact, GpioInput.Listener {

    static final long SETTLE_NANOS = TimeUnit.MILLISECONDS.toNanos(30);

    private final boolean closedHigh;
    private final boolean holdsPress;
    private final MonotonicClock clock;

    /** All guarded by this; held for a few instructions at a time. */
    private boolean isOpen;

    private boolean level;
    private long levelSinceNanos;
    private boolean settledClosed;
    private boolean wasPressed;

    GpioContact(boolean closedHigh, boolean holdsPress, MonotonicClock clock) {
        this.closedHigh = closedHigh;
        this.holdsPress = holdsPress;
        this.clock = clock;
    }

    @Override
    public synchronized void opened(boolean high) {
        isOpen = true;
        level = high;
        levelSinceNanos = clock.nanos();
        settledClosed = high == closedHigh;
    }

    @Override
    public synchronized void to(boolean high) {
        settle();
        if (high != level) {
            level = high;
            levelSinceNanos = clock.nanos();
        }
    }

    @Override
    public synchronized Optional<Boolean> isClosed() {
        if (!isOpen) {
            return Optional.empty();
        }
        settle();
        boolean closed = settledClosed || wasPressed;
        wasPressed = false;
        return Optional.of(closed);
    }

    private void settle() {
        if (isOpen && clock.nanos() - levelSinceNanos >= SETTLE_NANOS) {
            boolean closed = level == closedHigh;
            if (holdsPress && closed && !settledClosed) {
                wasPressed = true;
            }
            settledClosed = closed;
        }
    }
}
