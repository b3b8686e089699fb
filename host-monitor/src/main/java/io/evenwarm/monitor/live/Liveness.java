package io.evenwarm.monitor.live;

/** Whether what is known of a cabinet is still true. */
public enum Liveness {
    /** A snapshot came within the last few seconds. */
    LIVE,
    /** None has come for a while: what is shown is old. */
    STALE,
    /** The link is down, or none has come for long: nothing is known now. */
    LOST
}
