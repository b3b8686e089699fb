package io.evenwarm.agent.plant;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.WallClock;
import java.time.Instant;
import java.util.concurrent.atomic.AtomicLong;

/**
 * A clock that stands until it is told to go on. Its wall side goes along, and can be stepped on
 * its own.
 *
 * <p>Advanced by one thread; may be read by any.
 */
public final class VirtualClock implements MonotonicClock, WallClock {

    private final AtomicLong nanos = new AtomicLong();
    private volatile Instant wallZero;
    private volatile boolean trusted = true;

    /**
     * @param wall the wall time at monotonic 0
     */
    public VirtualClock(Instant wall) {
        this.wallZero = wall;
    }

    @Override
    public long nanos() {
        return nanos.getAcquire();
    }

    @Override
    public Instant now() {
        return wallZero.plusNanos(nanos());
    }

    @Override
    public boolean isTrusted() {
        return trusted;
    }

    /**
     * Lets time pass.
     *
     * @param byNanos 0 or more
     */
    public void advance(long byNanos) {
        if (byNanos < 0) {
            throw new IllegalArgumentException("time can't go back by " + byNanos + " ns");
        }
        nanos.setRelease(nanos.getPlain() + byNanos);
    }

    /** Steps the wall side alone, either way; says whether it is to be trusted from then on. */
    public void stepWall(long byNanos, boolean trustedNow) {
        wallZero = wallZero.plusNanos(byNanos);
        trusted = trustedNow;
    }
}
