package io.evenwarm.clock;

/** A clock that never steps. Its zero is arbitrary; only differences mean anything. */
@FunctionalInterface
public interface MonotonicClock {

    /** Nanoseconds since this clock's own zero; never decreases. */
    long nanos();
}
