package io.evenwarm.monitor.alert;

import io.evenwarm.monitor.alarm.AlarmStatus;
import io.evenwarm.monitor.alarm.Now;
import java.util.List;

/**
 * Alarms as the store has them.
 *
 * @param open those that are not at rest
 * @param at by which their monotonic times are to be read: when they were kept last
 * @param log changes, the oldest first
 */
public record AlarmsSeen(List<AlarmStatus> open, Now at, List<LoggedChange> log) {

    public AlarmsSeen {
        open = List.copyOf(open);
        log = List.copyOf(log);
    }
}
