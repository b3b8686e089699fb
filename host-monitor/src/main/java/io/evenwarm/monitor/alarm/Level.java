package io.evenwarm.monitor.alarm;

/** The two pairs of limits. */
enum Level {
    /** A person should look. */
    LOOK,
    /** A person must act now. */
    ACT
}
