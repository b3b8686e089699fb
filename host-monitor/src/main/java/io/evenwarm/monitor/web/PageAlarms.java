package io.evenwarm.monitor.web;

import io.evenwarm.monitor.alarm.WithoutHeat;
import io.evenwarm.monitor.history.CabinetKey;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/** The alarms as the page needs them. Any thread may call; none of these waits. */
public interface PageAlarms {

    /** Those that want somebody's attention, most urgent first. */
    List<OpenAlarm> open();

    /**
     * Somebody has taken an alarm upon themselves.
     *
     * @param id of an open alarm
     * @return why not, in words; empty when it is acknowledged now
     */
    Optional<String> acknowledge(String id, Visitor visitor);

    /**
     * How long a cabinet's eggs would have without heat, from its newest snapshot on.
     *
     * @return empty where nothing is known of it
     */
    default Optional<WithoutHeat> withoutHeat(CabinetKey cabinet) {
        return Optional.empty();
    }

    /**
     * One of them.
     *
     * @param id what {@link #acknowledge} takes
     * @param cabinet empty when it is about no cabinet alone
     * @param headline for example {@code Too cold}
     * @param since when it began
     * @param detail what it rests on, one sentence with units
     * @param advice what to do first
     * @param priority in a word, for example {@code urgent}
     * @param isAcknowledged whether somebody has taken it upon themselves
     */
    record OpenAlarm(
            String id,
            Optional<CabinetKey> cabinet,
            String headline,
            Instant since,
            String detail,
            String advice,
            String priority,
            boolean isAcknowledged) {}
}
