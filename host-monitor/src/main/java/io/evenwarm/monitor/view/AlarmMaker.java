package io.evenwarm.monitor.view;

import io.evenwarm.monitor.alarm.AlarmState;
import io.evenwarm.monitor.alarm.Priority;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.view.AlarmsModel.CardAlarm;
import io.evenwarm.monitor.view.AlarmsModel.LogRow;
import io.evenwarm.monitor.view.AlarmsModel.May;
import io.evenwarm.monitor.view.AlarmsModel.Row;
import io.evenwarm.monitor.view.WindowAlarms.LoggedAlarm;
import io.evenwarm.monitor.view.WindowAlarms.ShownAlarm;
import io.evenwarm.quantity.TemperatureUnit;
import io.evenwarm.quantity.TemperatureWords;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;

/** Makes words of the alarms. Pure. */
final class AlarmMaker {

    private final ZoneId zone;

    AlarmMaker(ZoneId zone) {
        this.zone = zone;
    }

    AlarmsModel model(AlarmWorker.State state, TemperatureUnit unit, Instant now) {
        Map<CabinetKey, CardAlarm> cards = new HashMap<>();
        for (ShownAlarm alarm : state.open()) {
            alarm.cabinet()
                    .ifPresent(
                            key ->
                                    cards.putIfAbsent(
                                            key,
                                            new CardAlarm(shape(alarm.priority()), onCard(alarm))));
        }
        return new AlarmsModel(
                state.open().stream().map(alarm -> row(alarm, unit, now)).toList(),
                state.putAway().stream().map(alarm -> row(alarm, unit, now)).toList(),
                summary(state),
                cards,
                "Times are local: " + Words.zone(zone, now),
                state.log().stream().map(change -> logRow(change, now)).toList(),
                state.logTrouble().orElse("No alarm has changed yet."),
                state.refusal().map(words -> "Not done: " + words).orElse(""));
    }

    /** Each level of priority has a shape and a word. */
    static CardState.Shape shape(Priority priority) {
        return switch (priority) {
            case HIGH -> CardState.Shape.OCTAGON;
            case MEDIUM -> CardState.Shape.TRIANGLE;
            case LOW -> CardState.Shape.DIAMOND;
        };
    }

    private static String onCard(ShownAlarm alarm) {
        return "Alarm, "
                + alarm.priority().words()
                + ": "
                + alarm.headline().substring(0, 1).toLowerCase(Locale.ROOT)
                + alarm.headline().substring(1)
                + (alarm.timeLeft().isEmpty() ? "" : ", eggs have " + alarm.timeLeft())
                + (alarm.state().awaitsAcknowledgement() ? "" : ", acknowledged");
    }

    private Row row(ShownAlarm alarm, TemperatureUnit unit, Instant now) {
        boolean isQuiet = alarm.state().isSuppressed();
        String lasting = Words.duration(Duration.between(alarm.since(), now));
        return new Row(
                alarm.id(),
                isQuiet ? CardState.Shape.DOT : shape(alarm.priority()),
                Words.sentence(alarm.priority().words()) + ", " + alarm.state().words(),
                alarm.headline(),
                alarm.subject(),
                "since " + Words.moment(alarm.since(), now, zone) + ", " + lasting,
                "for " + lasting,
                isQuiet || alarm.timeLeft().isEmpty() ? "" : "Eggs have " + alarm.timeLeft(),
                Words.sentence(TemperatureWords.inUnit(alarm.advice(), unit)),
                Words.sentence(TemperatureWords.inUnit(alarm.evidence(), unit)),
                putAway(alarm, now),
                alarm.state().awaitsAcknowledgement(),
                alarm.ofCause(),
                may(alarm.state()));
    }

    private String putAway(ShownAlarm alarm, Instant now) {
        if (alarm.shelf().isPresent()) {
            WindowAlarms.Shelf shelf = alarm.shelf().get();
            return "Shelved by "
                    + shelf.who()
                    + " until "
                    + Words.moment(shelf.until(), now, zone)
                    + ": "
                    + shelf.why();
        }
        return switch (alarm.state()) {
            case OUT_OF_SERVICE -> "Out of service until a person returns it to service";
            case SUPPRESSED_BY_DESIGN ->
                    alarm.explanation().isEmpty()
                            ? "Was explained until just now"
                            : Words.sentence(alarm.explanation());
            default -> "";
        };
    }

    private static List<May> may(AlarmState state) {
        List<May> may = new ArrayList<>();
        switch (state) {
            case LATCHED_UNACKNOWLEDGED, LATCHED_ACKNOWLEDGED -> {
                may.add(May.RESET);
                may.add(May.SHELVE);
            }
            case UNACKNOWLEDGED, ACKNOWLEDGED, RETURNED_UNACKNOWLEDGED, SUPPRESSED_BY_DESIGN ->
                    may.add(May.SHELVE);
            case SHELVED -> may.add(May.UNSHELVE);
            case OUT_OF_SERVICE -> may.add(May.RETURN_TO_SERVICE);
            case NORMAL -> {
                // At rest: nothing is to be done.
            }
        }
        return may;
    }

    private static String summary(AlarmWorker.State state) {
        int open = state.open().size();
        long fresh =
                state.open().stream()
                        .filter(alarm -> alarm.state().awaitsAcknowledgement())
                        .count();
        if (open == 0) {
            return "No open alarm";
        }
        return open
                + (open == 1 ? " alarm, " : " alarms, ")
                + (fresh == 0
                        ? open == 1 ? "acknowledged" : "all acknowledged"
                        : fresh + " not acknowledged");
    }

    private LogRow logRow(LoggedAlarm change, Instant now) {
        boolean isSame = change.from().equals(change.to());
        return new LogRow(
                change.number(),
                Words.moment(change.at(), now, zone),
                Words.sentence(change.trouble()) + ", " + change.subject(),
                isSame
                        ? "priority raised to " + change.priority()
                        : change.from() + " → " + change.to() + ", " + change.priority(),
                Words.sentence(change.who()) + ": " + change.why());
    }
}
