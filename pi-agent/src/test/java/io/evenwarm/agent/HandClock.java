package io.evenwarm.agent;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.WallClock;
import java.time.Instant;
import java.util.concurrent.atomic.AtomicLong;

/** Both clocks, turned by the test's hand. */
public final class HandClock implements MonotonicClock, WallClock {

    private static final double NANOS_PER_SECOND = 1e9;

    private final AtomicLong nanos = new AtomicLong();

    @Override
    public long nanos() {
        return nanos.get();
    }

    @Override
    public Instant now() {
        return Snapshots.START.plusNanos(nanos.get());
    }

    @Override
    public boolean isTrusted() {
        return true;
    }

    /** Turns both on, and returns the new monotonic time. */
    public long advanceSeconds(double seconds) {
        return nanos.addAndGet((long) (seconds * NANOS_PER_SECOND));
    }
}
