package io.evenwarm.monitor.view;

import io.evenwarm.monitor.alarm.AlarmState;
import io.evenwarm.monitor.alarm.Priority;
import io.evenwarm.monitor.history.CabinetKey;
import java.io.UncheckedIOException;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;

/** Seven invented alarms of the {@link InventedCabinets}: five in view, two put away. */
final class InventedWindowAlarms implements WindowAlarms {

    private final Instant opened;
    private final List<ShownAlarm> alarms = new ArrayList<>();
    private final List<LoggedAlarm> log = new ArrayList<>();

    /** Thrown by the next look at the log. */
    volatile Optional<UncheckedIOException> logTrouble = Optional.empty();

    InventedWindowAlarms(Instant opened) {
        this.opened = opened;
        alarms.add(
                alarm(
                        InventedCabinets.Story.TRIPPED,
                        "Cut off tripped",
                        12,
                        Priority.HIGH,
                        AlarmState.LATCHED_UNACKNOWLEDGED,
                        "38 min",
                        "top reached 33.6 °C at a cut-off of 33.5 °C while the heater was asked to"
                                + " be off.",
                        "The heater relay may be welded: unplug the heater, then let it cool before"
                                + " you reset."));
        alarms.add(
                alarm(
                        InventedCabinets.Story.LOST,
                        "Cabinet stale",
                        184,
                        Priority.MEDIUM,
                        AlarmState.UNACKNOWLEDGED,
                        "about 4 h",
                        "no snapshot of cabinet old fridge for 3 h 4 min.",
                        "Look whether its agent has power and network, and at the cabinet itself."));
        alarms.add(
                alarm(
                        InventedCabinets.Story.DISAGREES,
                        "Probes disagree (top)",
                        26,
                        Priority.LOW,
                        AlarmState.UNACKNOWLEDGED,
                        "",
                        "top reads 32.6 °C, 1.1 K above middle and bottom.",
                        "Look whether the top probe hangs free and away from the heater; put it"
                                + " back and wait 10 minutes."));
        alarms.add(
                alarm(
                        InventedCabinets.Story.TRIPPED,
                        "Too warm",
                        9,
                        Priority.MEDIUM,
                        AlarmState.ACKNOWLEDGED,
                        "about 2 h",
                        "warmest air 33.1 °C, above the limit of 32.5 °C at a set point of 31.5 °C",
                        "Look: is the heater off, does the fan run, is the room too warm?"));
        alarms.add(
                alarm(
                        InventedCabinets.Story.STALE,
                        "Uneven",
                        63,
                        Priority.LOW,
                        AlarmState.ACKNOWLEDGED,
                        "",
                        "top and bottom 2.8 K apart, more than 2.5 K.",
                        "Look whether the fan runs and whether tubs stand in its way."));
        alarms.add(
                shelved(
                        alarm(
                                InventedCabinets.Story.CALM,
                                "Too damp",
                                300,
                                Priority.LOW,
                                AlarmState.SHELVED,
                                "",
                                "mean humidity 98 %, above the limit of 97 %.",
                                "Open a vent a little."),
                        opened.plus(Duration.ofMinutes(95)),
                        "the vent is being rebuilt"));
        alarms.add(
                alarm(
                        InventedCabinets.Story.TRIPPED,
                        "Far too warm",
                        8,
                        Priority.MEDIUM,
                        AlarmState.SUPPRESSED_BY_DESIGN,
                        "",
                        "warmest air 33.6 °C.",
                        "Pull the heater's plug."));
        logged("tall one", "cut off tripped", AlarmState.NORMAL, AlarmState.UNACKNOWLEDGED, 12);
        logged("tall one", "too warm", AlarmState.UNACKNOWLEDGED, AlarmState.ACKNOWLEDGED, 7);
    }

    private ShownAlarm alarm(
            InventedCabinets.Story story,
            String headline,
            long minutesAgo,
            Priority priority,
            AlarmState state,
            String timeLeft,
            String evidence,
            String advice) {
        CabinetKey key = story.key();
        return new ShownAlarm(
                key.cabinet() + "|" + headline,
                Optional.of(key),
                key.agent() + " / " + key.cabinet(),
                headline,
                opened.minus(Duration.ofMinutes(minutesAgo)),
                priority,
                state,
                timeLeft,
                evidence,
                advice,
                Optional.empty(),
                state == AlarmState.SUPPRESSED_BY_DESIGN
                        ? "explained by egg room / tall one cut off tripped"
                        : "",
                1);
    }

    private static ShownAlarm shelved(ShownAlarm alarm, Instant until, String why) {
        return with(alarm, AlarmState.SHELVED, Optional.of(new Shelf(until, "Invented Anna", why)));
    }

    private static ShownAlarm with(ShownAlarm its, AlarmState state, Optional<Shelf> shelf) {
        return new ShownAlarm(
                its.id(),
                its.cabinet(),
                its.subject(),
                its.headline(),
                its.since(),
                its.priority(),
                state,
                its.timeLeft(),
                its.evidence(),
                its.advice(),
                shelf,
                its.explanation(),
                its.ofCause());
    }

    /** Those of one cabinet have one cause here. */
    private ShownAlarm ofCause(ShownAlarm its) {
        long awaiting =
                alarms.stream()
                        .filter(alarm -> alarm.cabinet().equals(its.cabinet()))
                        .filter(alarm -> alarm.state().awaitsAcknowledgement())
                        .count();
        return new ShownAlarm(
                its.id(),
                its.cabinet(),
                its.subject(),
                its.headline(),
                its.since(),
                its.priority(),
                its.state(),
                its.timeLeft(),
                its.evidence(),
                its.advice(),
                its.shelf(),
                its.explanation(),
                (int) awaiting);
    }

    private void logged(
            String cabinet, String trouble, AlarmState from, AlarmState to, long minutesAgo) {
        log.add(
                0,
                new LoggedAlarm(
                        log.size() + 1,
                        opened.minus(Duration.ofMinutes(minutesAgo)),
                        "egg room / " + cabinet,
                        trouble,
                        from.words(),
                        to.words(),
                        to == AlarmState.ACKNOWLEDGED ? "Invented Anna" : "monitor",
                        to == AlarmState.ACKNOWLEDGED
                                ? "acknowledged by Invented Anna"
                                : "the condition occurred",
                        "medium"));
    }

    @Override
    public synchronized List<ShownAlarm> open() {
        return alarms.stream()
                .filter(alarm -> !alarm.state().isSuppressed())
                .map(this::ofCause)
                .toList();
    }

    @Override
    public synchronized List<ShownAlarm> putAway() {
        return alarms.stream().filter(alarm -> alarm.state().isSuppressed()).toList();
    }

    @Override
    public synchronized List<LoggedAlarm> log(int limit) {
        if (logTrouble.isPresent()) {
            throw logTrouble.get();
        }
        return log.stream().limit(limit).toList();
    }

    private synchronized Optional<String> change(
            String id, Function<ShownAlarm, ShownAlarm> change) {
        for (int i = 0; i < alarms.size(); i++) {
            ShownAlarm alarm = alarms.get(i);
            if (alarm.id().equals(id)) {
                ShownAlarm after = change.apply(alarm);
                alarms.set(i, after);
                logged(
                        alarm.cabinet().orElseThrow().cabinet().value(),
                        alarm.headline(),
                        alarm.state(),
                        after.state(),
                        0);
                return Optional.empty();
            }
        }
        return Optional.of("This alarm is over.");
    }

    @Override
    public Optional<String> acknowledge(String id) {
        return change(
                id,
                its ->
                        with(
                                its,
                                its.state() == AlarmState.LATCHED_UNACKNOWLEDGED
                                        ? AlarmState.LATCHED_ACKNOWLEDGED
                                        : AlarmState.ACKNOWLEDGED,
                                its.shelf()));
    }

    @Override
    public Optional<String> acknowledgeCause(String id) {
        String cabinet = id.substring(0, id.indexOf('|'));
        List.copyOf(alarms).stream()
                .filter(alarm -> alarm.id().startsWith(cabinet + "|"))
                .filter(alarm -> alarm.state().awaitsAcknowledgement())
                .forEach(alarm -> acknowledge(alarm.id()));
        return Optional.empty();
    }

    /** Something new, more pressing than all else. */
    synchronized void add(InventedCabinets.Story story, String headline) {
        alarms.add(
                0,
                alarm(
                        story,
                        headline,
                        0,
                        Priority.HIGH,
                        AlarmState.UNACKNOWLEDGED,
                        "20 min",
                        "",
                        ""));
    }

    @Override
    public Optional<String> reset(String id) {
        return Optional.of("the condition is still there");
    }

    @Override
    public Optional<String> shelve(String id, Duration length, String why) {
        return change(id, its -> shelved(its, opened.plus(length), why));
    }

    @Override
    public Optional<String> unshelve(String id) {
        return change(id, its -> with(its, AlarmState.UNACKNOWLEDGED, Optional.empty()));
    }

    @Override
    public Optional<String> takeOutOfService(String id, String why) {
        return change(id, its -> with(its, AlarmState.OUT_OF_SERVICE, Optional.empty()));
    }

    @Override
    public Optional<String> returnToService(String id) {
        return unshelve(id);
    }
}
