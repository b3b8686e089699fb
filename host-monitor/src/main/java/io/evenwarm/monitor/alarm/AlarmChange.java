package io.evenwarm.monitor.alarm;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;

/**
 * One change of one alarm, for the log and for whoever is to be told. Never taken back or
 * rewritten.
 *
 * @param number counts this desk's changes from 1, through restarts
 * @param event what alarms of one cause have in common; empty only where nothing occurred yet, as
 *     when an alarm in its normal state is shelved
 * @param from the state before; the same as {@code to} only where the priority rose
 * @param at when
 * @param who the person, or "monitor"
 * @param why in plain words
 * @param priority in force from now on
 * @param timeLeft how long the eggs have, where that is known and limited
 * @param beganNanos monotonic time since when the condition has been there: the first-out order of
 *     an event's alarms. Where it is not there, the time of the change
 * @param began the same in wall time
 * @param words evidence, what the agent did, what to do
 */
public record AlarmChange(
        long number,
        AlarmKey key,
        Optional<EventId> event,
        AlarmState from,
        AlarmState to,
        Trigger trigger,
        Now at,
        String who,
        String why,
        Priority priority,
        Optional<Duration> timeLeft,
        long beganNanos,
        Instant began,
        AlarmWords words) {

    /**
     * Whether a person has something new to hear: it came into view, or it became more pressing.
     */
    public boolean isAnnunciation() {
        return to == AlarmState.UNACKNOWLEDGED;
    }
}
