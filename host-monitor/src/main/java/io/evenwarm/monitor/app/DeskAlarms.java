package io.evenwarm.monitor.app;

import io.evenwarm.monitor.alarm.AlarmCodes;
import io.evenwarm.monitor.alarm.AlarmKey;
import io.evenwarm.monitor.alarm.AlarmState;
import io.evenwarm.monitor.alarm.AlarmStatus;
import io.evenwarm.monitor.alarm.Now;
import io.evenwarm.monitor.alarm.OperatorAction;
import io.evenwarm.monitor.alert.AlarmKeeper;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.web.PageAlarms;
import io.evenwarm.monitor.web.Visitor;
import java.time.Duration;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** The keeper's alarms as the phone page shows them. */
final class DeskAlarms implements PageAlarms {

    private final AlarmKeeper keeper;

    DeskAlarms(AlarmKeeper keeper) {
        this.keeper = keeper;
    }

    @Override
    public List<OpenAlarm> open() {
        Now now = keeper.moment();
        return keeper.alarms().stream()
                .filter(DeskAlarms::isInView)
                .sorted(
                        Comparator.<AlarmStatus, Boolean>comparing(
                                        alarm -> !alarm.state().awaitsAcknowledgement())
                                // An exercise hides nothing.
                                .thenComparing(alarm -> alarm.key().code().equals(AlarmCodes.DRILL))
                                .thenComparing(AlarmStatus::priority, Comparator.reverseOrder())
                                .thenComparing(alarm -> alarm.stateSince().nanos()))
                .map(alarm -> open(alarm, now))
                .toList();
    }

    private static boolean isInView(AlarmStatus alarm) {
        return alarm.state() != AlarmState.NORMAL && !alarm.state().isSuppressed();
    }

    private static OpenAlarm open(AlarmStatus alarm, Now now) {
        AlarmKey key = alarm.key();
        return new OpenAlarm(
                id(key),
                key.subject()
                        .agent()
                        .flatMap(
                                agent ->
                                        key.subject()
                                                .cabinet()
                                                .map(cabinet -> new CabinetKey(agent, cabinet))),
                headline(key),
                alarm.began(now),
                alarm.words().evidence()
                        + alarm.timeLeft()
                                .map(left -> " Eggs have " + words(left) + ".")
                                .orElse(""),
                alarm.words().advice(),
                alarm.priority().words() + ", " + alarm.state().words(),
                !alarm.state().awaitsAcknowledgement());
    }

    private static String headline(AlarmKey key) {
        String trouble = key.trouble();
        return trouble.substring(0, 1).toUpperCase(Locale.ROOT) + trouble.substring(1);
    }

    private static String words(Duration left) {
        return left.toHours() < 2 ? left.toMinutes() + " min" : "about " + left.toHours() + " h";
    }

    private static String id(AlarmKey key) {
        return key.subject()
                + "|"
                + key.code().value()
                + "|"
                + key.probe().map(Object::toString).orElse("");
    }

    @Override
    public Optional<String> acknowledge(String id, Visitor visitor) {
        return keeper.alarms().stream()
                .map(AlarmStatus::key)
                .filter(key -> id(key).equals(id))
                .findFirst()
                .map(key -> keeper.act(new OperatorAction.Acknowledge(key), visitor.name()))
                .orElse(Optional.of("This alarm is over."));
    }
}
