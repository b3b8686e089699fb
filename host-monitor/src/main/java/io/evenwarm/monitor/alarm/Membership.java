package io.evenwarm.monitor.alarm;

/**
 * That an alarm belongs to an event.
 *
 * @param raisedAtNanos monotonic time when its last occurrence was raised
 * @param aliveAtNanos monotonic time when its condition was last there
 */
public record Membership(AlarmKey key, EventId event, long raisedAtNanos, long aliveAtNanos) {

    Membership shifted(long byNanos) {
        return new Membership(key, event, raisedAtNanos + byNanos, aliveAtNanos + byNanos);
    }
}
