package io.evenwarm.monitor.app;

import io.evenwarm.monitor.alarm.OperatorAction;
import io.evenwarm.monitor.alarm.WithoutHeat;
import io.evenwarm.monitor.alert.AlarmBoard;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.web.PageAlarms;
import io.evenwarm.monitor.web.Visitor;
import java.util.List;
import java.util.Optional;

/** The keeper's alarms as the phone page shows them. */
final class DeskAlarms implements PageAlarms {

    private final AlarmBoard board;

    DeskAlarms(AlarmBoard board) {
        this.board = board;
    }

    @Override
    public List<OpenAlarm> open() {
        return board.open().stream().map(DeskAlarms::open).toList();
    }

    @Override
    public Optional<WithoutHeat> withoutHeat(CabinetKey cabinet) {
        return board.timeLeft(cabinet).flatMap(WithoutHeat::of);
    }

    private static OpenAlarm open(AlarmBoard.Entry alarm) {
        return new OpenAlarm(
                alarm.id(),
                alarm.cabinet(),
                alarm.headline(),
                alarm.since(),
                alarm.words().evidence()
                        + alarm.timeLeft()
                                .map(left -> " Eggs have " + AlarmBoard.words(left) + ".")
                                .orElse(""),
                alarm.words().advice(),
                alarm.priority().words() + ", " + alarm.state().words(),
                !alarm.state().awaitsAcknowledgement());
    }

    @Override
    public Optional<String> acknowledge(String id, Visitor visitor) {
        return board.act(id, OperatorAction.Acknowledge::new, visitor.name());
    }
}
