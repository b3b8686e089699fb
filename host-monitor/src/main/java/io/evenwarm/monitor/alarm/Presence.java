package io.evenwarm.monitor.alarm;

/** What one look says about a condition. */
public enum Presence {
    PRESENT,
    ABSENT,
    /** What is known can't tell. */
    UNKNOWN;

    static Presence of(boolean isPresent) {
        return isPresent ? PRESENT : ABSENT;
    }
}
