package io.evenwarm.monitor.alert;

import io.evenwarm.monitor.alarm.AlarmPerformance;
import io.evenwarm.monitor.alarm.AlarmState;
import io.evenwarm.monitor.alarm.Priority;
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
        String evidence) {

    /** Which alarm it is of, by its name for a person. */
    public String alarm() {
        return subject + " " + code + probe.map(name -> " (" + name + ")").orElse("");
    }

    /**
     * What of it counts for how well alarms serve.
     *
     * @throws IllegalArgumentException where a state or a priority is none of the standard's
     */
    public AlarmPerformance.Step step() {
        return new AlarmPerformance.Step(
                alarm(),
                AlarmState.ofWords(from),
                AlarmState.ofWords(to),
                Priority.ofWords(priority),
                at);
    }
}
