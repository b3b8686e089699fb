package io.evenwarm.monitor.alarm;

/**
 * That an alarm belongs to an event.
 *
 * @param raisedAtNanos monotonic time when its last occurrence was raised
 * @param aliveAtNanos monotonic time when its condition was last there
 * @param returns how often it came back without having been gone for longer than {@link
 *     AlarmTimes#sameTroubleWithin()}; 0 at first
 */
public record Membership(
        AlarmKey key, EventId event, long raisedAtNanos, long aliveAtNanos, int returns) {

    Membership shifted(long byNanos) {
        return new Membership(key, event, raisedAtNanos + byNanos, aliveAtNanos + byNanos, returns);
    }
}
