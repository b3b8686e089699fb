package io.evenwarm.agent.serve;

import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.locks.LockSupport;

/** Wakes one thread. Raising never waits, so that even the control thread may do it. */
final class Wakeup {

    private final Thread sleeper;
    private final AtomicBoolean isRaised = new AtomicBoolean();

    /**
     * @param sleeper the only thread that may {@link #await}
     */
    Wakeup(Thread sleeper) {
        this.sleeper = sleeper;
    }

    void raise() {
        if (!isRaised.getAndSet(true)) {
            LockSupport.unpark(sleeper);
        }
    }

    /** Returns when raised since the last return, or when the time is over; now and then sooner. */
    void await(long nanos) {
        if (!isRaised.get()) {
            LockSupport.parkNanos(this, nanos);
        }
        isRaised.set(false);
    }
}
