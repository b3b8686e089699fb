package io.evenwarm.monitor.alarm;

import java.util.function.Supplier;

/**
 * What one look says about the condition of one alarm.
 *
 * @param beganNanos monotonic time since when it has been there; the time of the look unless told
 * @param words for a person; asked for only when they will be shown
 */
record Look(
        Presence presence,
        long onDelayNanos,
        long offDelayNanos,
        long beganNanos,
        Supplier<AlarmWords> words) {

    Look withOffDelay(long nanos) {
        return nanos == offDelayNanos
                ? this
                : new Look(presence, onDelayNanos, nanos, beganNanos, words);
    }
}
