package io.evenwarm.monitor.view;

import io.evenwarm.monitor.alarm.AlarmState;
import io.evenwarm.monitor.alarm.Priority;
import io.evenwarm.monitor.history.CabinetKey;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * The alarms as the window needs them. Asked and told by a worker of the window's own, never by its
 * drawing thread: any of these may wait for the store. Each that changes something returns why it
 * did not, in words; empty when it counts.
 */
public interface WindowAlarms {

    /** For a window behind which no alarms are at work. */
    WindowAlarms NONE = new NoAlarms();

    /** Those that want somebody's attention, the most pressing first. */
    List<ShownAlarm> open();

    /** Those that are kept from people: shelved, out of service, explained by another one. */
    List<ShownAlarm> putAway();

    /**
     * What changed, newest first.
     *
     * @param limit above 0
     * @throws java.io.UncheckedIOException when the log can't be read
     */
    List<LoggedAlarm> log(int limit);

    Optional<String> acknowledge(String id);

    /** All alarms of the cause that this one has. */
    Optional<String> acknowledgeCause(String id);

    Optional<String> reset(String id);

    /**
     * Keeps one from people for a while.
     *
     * @param length at most 24 h
     * @param why not blank
     */
    Optional<String> shelve(String id, Duration length, String why);

    Optional<String> unshelve(String id);

    /**
     * Keeps one from people until it is returned.
     *
     * @param why not blank
     */
    Optional<String> takeOutOfService(String id, String why);

    Optional<String> returnToService(String id);

    /**
     * One alarm.
     *
     * @param cabinet empty when it is about no cabinet alone
     * @param subject what it is about, as in {@code egg room / north}
     * @param headline for example {@code Too cold}
     * @param since when it began
     * @param timeLeft how long the eggs have, in words; empty where no limit is coming nearer
     * @param evidence the values that it rests on, in Celsius
     * @param advice what to do first
     * @param shelf while it is shelved
     * @param explanation what explains it, in words, while another one or a door does; else empty
     * @param ofCause how many alarms of its cause await acknowledgement, itself included
     */
    record ShownAlarm(
            String id,
            Optional<CabinetKey> cabinet,
            String subject,
            String headline,
            Instant since,
            Priority priority,
            AlarmState state,
            String timeLeft,
            String evidence,
            String advice,
            Optional<Shelf> shelf,
            String explanation,
            int ofCause) {}

    /**
     * That a person shelved it.
     *
     * @param until when it ends by itself
     */
    record Shelf(Instant until, String who, String why) {}

    /**
     * One change in the log.
     *
     * @param number counts the changes from 1
     * @param trouble as in {@code probe lost (top)}
     * @param from the state before, by the standard's name
     * @param to the state after
     * @param who the person, or {@code monitor}
     */
    record LoggedAlarm(
            long number,
            Instant at,
            String subject,
            String trouble,
            String from,
            String to,
            String who,
            String why,
            String priority) {}
}
