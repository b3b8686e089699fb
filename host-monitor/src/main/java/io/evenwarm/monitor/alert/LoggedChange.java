package io.evenwarm.monitor.alert;

import java.time.Instant;
import java.util.Optional;

/**
 * A change of an alarm, as the log tells it.
 *
 * @param number counts the log's changes from 1
 * @param at when, by the monitor's wall clock
 * @param subject what it is about, for a person
 * @param code of the alarm
 * @param probe where it is about one
 * @param from the state before, by the standard's name
 * @param to the state after
 * @param who the person, or {@code monitor}
 * @param why in plain words
 * @param priority in force from then on
 * @param evidence the values that it rests on
 */
public record LoggedChange(
        long number,
        Instant at,
        String subject,
        String code,
        Optional<String> probe,
        String from,
        String to,
        String who,
        String why,
        String priority,
        String evidence) {}
