package io.evenwarm.monitor.view;

import java.time.Duration;
import java.util.List;
import java.util.Optional;

/** Behind this window no alarms are at work. */
final class NoAlarms implements WindowAlarms {

    private static final Optional<String> NOT_AT_WORK =
            Optional.of("No alarms are at work behind this window.");

    @Override
    public List<ShownAlarm> open() {
        return List.of();
    }

    @Override
    public List<ShownAlarm> putAway() {
        return List.of();
    }

    @Override
    public List<LoggedAlarm> log(int limit) {
        return List.of();
    }

    @Override
    public Optional<String> acknowledge(String id) {
        return NOT_AT_WORK;
    }

    @Override
    public Optional<String> acknowledgeCause(String id) {
        return NOT_AT_WORK;
    }

    @Override
    public Optional<String> reset(String id) {
        return NOT_AT_WORK;
    }

    @Override
    public Optional<String> shelve(String id, Duration length, String why) {
        return NOT_AT_WORK;
    }

    @Override
    public Optional<String> unshelve(String id) {
        return NOT_AT_WORK;
    }

    @Override
    public Optional<String> takeOutOfService(String id, String why) {
        return NOT_AT_WORK;
    }

    @Override
    public Optional<String> returnToService(String id) {
        return NOT_AT_WORK;
    }
}
