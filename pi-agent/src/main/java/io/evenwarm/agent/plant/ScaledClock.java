package io.evenwarm.agent.plant;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.WallClock;
import java.time.Instant;

/**
 * A clock that runs faster than a real one from the moment it is made; its wall side starts at the
 * real wall time. Any thread may read it.
 */
public final class ScaledClock implements MonotonicClock, WallClock {

    private final MonotonicClock real;
    private final WallClock realWall;
    private final double speed;
    private final long startNanos;
    private final Instant startWall;

    /**
     * @param speed simulated seconds for each real one; above 0 to 10,000
     */
    public ScaledClock(MonotonicClock real, WallClock realWall, double speed) {
        if (!(speed > 0 && speed <= 10_000)) {
            throw new IllegalArgumentException(
                    "speed must be above 0 and at most 10000 but was " + speed);
        }
        this.real = real;
        this.realWall = realWall;
        this.speed = speed;
        this.startNanos = real.nanos();
        this.startWall = realWall.now();
    }

    @Override
    public long nanos() {
        return startNanos + elapsedNanos();
    }

    @Override
    public Instant now() {
        return startWall.plusNanos(elapsedNanos());
    }

    @Override
    public boolean isTrusted() {
        return realWall.isTrusted();
    }

    private long elapsedNanos() {
        return (long) ((real.nanos() - startNanos) * speed);
    }
}
