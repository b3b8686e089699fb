package io.evenwarm.monitor.app;

import io.evenwarm.monitor.alarm.AlarmKey;
import io.evenwarm.monitor.alarm.OperatorAction;
import io.evenwarm.monitor.alert.AlarmBoard;
import io.evenwarm.monitor.alert.AlarmStore;
import io.evenwarm.monitor.alert.LoggedChange;
import io.evenwarm.monitor.view.WindowAlarms;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.time.Duration;
import java.util.List;
import java.util.Optional;

/** The keeper's alarms and their log as the window shows them. */
final class DeskWindowAlarms implements WindowAlarms {

    private final AlarmBoard board;
    private final AlarmStore log;
    private final String person;

    /**
     * @param person who acts at the window, for the log
     */
    DeskWindowAlarms(AlarmBoard board, AlarmStore log, String person) {
        this.board = board;
        this.log = log;
        this.person = person;
    }

    /** Who acts at a window whose settings name nobody: whoever runs it. */
    static String account() {
        String account = System.getProperty("user.name", "");
        return account.isBlank() ? "window" : account;
    }

    @Override
    public List<ShownAlarm> open() {
        return board.open().stream().map(DeskWindowAlarms::shown).toList();
    }

    @Override
    public List<ShownAlarm> putAway() {
        return board.putAway().stream().map(DeskWindowAlarms::shown).toList();
    }

    private static ShownAlarm shown(AlarmBoard.Entry alarm) {
        return new ShownAlarm(
                alarm.id(),
                alarm.cabinet(),
                alarm.key().subject().toString(),
                alarm.headline(),
                alarm.since(),
                alarm.priority(),
                alarm.state(),
                alarm.timeLeft().map(AlarmBoard::words).orElse(""),
                alarm.words().evidence(),
                alarm.words().advice(),
                alarm.shelf().map(shelf -> new Shelf(shelf.until(), shelf.who(), shelf.why())),
                alarm.explanation().orElse(""),
                alarm.ofCause());
    }

    @Override
    public List<LoggedAlarm> log(int limit) {
        try {
            return log.newest(limit).stream().map(DeskWindowAlarms::logged).toList();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static LoggedAlarm logged(LoggedChange change) {
        return new LoggedAlarm(
                change.number(),
                change.at(),
                change.subject(),
                AlarmKey.trouble(change.code(), change.probe()),
                change.from(),
                change.to(),
                change.who(),
                change.why(),
                change.priority());
    }

    @Override
    public Optional<String> acknowledge(String id) {
        return board.act(id, OperatorAction.Acknowledge::new, person);
    }

    @Override
    public Optional<String> acknowledgeCause(String id) {
        return board.acknowledgeCause(id, person);
    }

    @Override
    public Optional<String> reset(String id) {
        return board.act(id, OperatorAction.Reset::new, person);
    }

    @Override
    public Optional<String> shelve(String id, Duration length, String why) {
        return board.act(id, key -> new OperatorAction.Shelve(key, length, why), person);
    }

    @Override
    public Optional<String> unshelve(String id) {
        return board.act(id, OperatorAction.Unshelve::new, person);
    }

    @Override
    public Optional<String> takeOutOfService(String id, String why) {
        return board.act(id, key -> new OperatorAction.TakeOutOfService(key, why), person);
    }

    @Override
    public Optional<String> returnToService(String id) {
        return board.act(id, OperatorAction.ReturnToService::new, person);
    }
}
