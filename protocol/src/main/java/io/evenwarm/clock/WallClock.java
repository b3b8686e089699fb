package io.evenwarm.clock;

import java.time.Instant;

/** The date and time that people use. It may be wrong, and it may step either way at any moment. */
public interface WallClock {

    Instant now();

    /** Whether something outside this machine has vouched for {@link #now()} since the boot. */
    boolean isTrusted();

    /** The same time, vouched for whatever else says: for cabinets that are invented. */
    default WallClock takenAsSet() {
        WallClock its = this;
        return new WallClock() {
            @Override
            public Instant now() {
                return its.now();
            }

            @Override
            public boolean isTrusted() {
                return true;
            }
        };
    }
}
