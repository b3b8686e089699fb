package io.evenwarm.monitor.alert;

import io.evenwarm.monitor.alarm.AlarmCodes;
import io.evenwarm.monitor.alarm.AlarmKey;
import io.evenwarm.monitor.alarm.AlarmState;
import io.evenwarm.monitor.alarm.AlarmStatus;
import io.evenwarm.monitor.alarm.AlarmWords;
import io.evenwarm.monitor.alarm.Now;
import io.evenwarm.monitor.alarm.OperatorAction;
import io.evenwarm.monitor.alarm.Priority;
import io.evenwarm.monitor.alarm.TimeLeft;
import io.evenwarm.monitor.history.CabinetKey;
import java.time.Duration;
import java.time.Instant;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;

/**
 * The keeper's alarms as people are shown them, whatever shows them. Any thread may ask; an answer
 * may wait for as long as the store takes.
 */
public final class AlarmBoard {

    /** Unacknowledged before acknowledged, then what presses, then what came first. */
    private static final Comparator<AlarmStatus> MOST_PRESSING_FIRST =
            Comparator.<AlarmStatus, Boolean>comparing(
                            alarm -> !alarm.state().awaitsAcknowledgement())
                    // An exercise hides nothing.
                    .thenComparing(alarm -> alarm.key().code().equals(AlarmCodes.DRILL))
                    .thenComparing(AlarmStatus::priority, Comparator.reverseOrder())
                    .thenComparing(alarm -> alarm.timeLeft().isEmpty())
                    .thenComparing(alarm -> alarm.timeLeft().orElse(Duration.ZERO))
                    .thenComparingLong(alarm -> alarm.stateSince().nanos())
                    .thenComparing(alarm -> alarm.key().toString());

    private final AlarmKeeper keeper;

    public AlarmBoard(AlarmKeeper keeper) {
        this.keeper = keeper;
    }

    /**
     * One alarm.
     *
     * @param id what {@link #act} takes
     * @param cabinet empty when it is about no cabinet alone
     * @param headline for example {@code Too cold}
     * @param since when it began
     * @param timeLeft how long the eggs had when it was last judged
     * @param shelf while it is shelved
     * @param explanation what explains it, while it is suppressed by design; empty where nothing
     *     does any more, which it is told of in the next second
     * @param ofCause how many alarms of its cause await acknowledgement, itself included
     */
    public record Entry(
            String id,
            AlarmKey key,
            Optional<CabinetKey> cabinet,
            String headline,
            Instant since,
            Priority priority,
            AlarmState state,
            Optional<Duration> timeLeft,
            AlarmWords words,
            Optional<Shelf> shelf,
            Optional<String> explanation,
            int ofCause) {}

    /**
     * That a person shelved it.
     *
     * @param until when it ends by itself
     */
    public record Shelf(Instant until, String who, String why) {}

    /** Those that want somebody's attention, the most pressing first. */
    public List<Entry> open() {
        return list(false);
    }

    /** Those that are kept from people: shelved, out of service, suppressed by design. */
    public List<Entry> putAway() {
        return list(true);
    }

    /** How long a cabinet's eggs had at its newest snapshot; empty before the first. */
    public Optional<TimeLeft.Estimate> timeLeft(CabinetKey key) {
        return keeper.timeLeft(key);
    }

    private List<Entry> list(boolean isPutAway) {
        Now now = keeper.moment();
        List<AlarmStatus> all = keeper.alarms();
        Map<AlarmKey, String> explanations = isPutAway ? keeper.explanations() : Map.of();
        return all.stream()
                .filter(alarm -> alarm.state() != AlarmState.NORMAL)
                .filter(alarm -> alarm.state().isSuppressed() == isPutAway)
                .sorted(MOST_PRESSING_FIRST)
                .map(
                        alarm ->
                                entry(
                                        alarm,
                                        Optional.ofNullable(explanations.get(alarm.key())),
                                        ofCause(alarm, all),
                                        now))
                .toList();
    }

    private static int ofCause(AlarmStatus alarm, List<AlarmStatus> all) {
        return (int)
                all.stream()
                        .filter(other -> other.state().awaitsAcknowledgement())
                        .filter(
                                other ->
                                        other.key().equals(alarm.key())
                                                || (other.event().isPresent()
                                                        && other.event().equals(alarm.event())))
                        .count();
    }

    private static Entry entry(
            AlarmStatus alarm, Optional<String> explanation, int ofCause, Now now) {
        AlarmKey key = alarm.key();
        return new Entry(
                id(key),
                key,
                key.subject().cabinetKey(),
                sentence(key.trouble()),
                alarm.began(now),
                alarm.priority(),
                alarm.state(),
                alarm.timeLeft(),
                alarm.words(),
                alarm.shelf()
                        .map(
                                shelf ->
                                        new Shelf(
                                                alarm.shelvedUntil(now).orElse(now.wall()),
                                                shelf.who(),
                                                shelf.why())),
                explanation,
                ofCause);
    }

    /** How long eggs have, in words that promise no minute: it is an estimate. */
    public static String words(Duration left) {
        return left.toHours() < 2 ? left.toMinutes() + " min" : "about " + left.toHours() + " h";
    }

    private static String sentence(String words) {
        return words.substring(0, 1).toUpperCase(Locale.ROOT) + words.substring(1);
    }

    private static String id(AlarmKey key) {
        return key.subject()
                + "|"
                + key.code().value()
                + "|"
                + key.probe().map(Object::toString).orElse("");
    }

    /**
     * A person does something about one of them.
     *
     * @return why not, in words; empty when it counts
     */
    public Optional<String> act(String id, Function<AlarmKey, OperatorAction> action, String who) {
        return keeper.alarms().stream()
                .map(AlarmStatus::key)
                .filter(key -> id(key).equals(id))
                .findFirst()
                .map(key -> keeper.act(action.apply(key), who))
                .orElse(Optional.of("This alarm is over."));
    }

    /**
     * A person acknowledges all alarms of the cause that one of them has.
     *
     * @return why not, in words; empty when it counts
     */
    public Optional<String> acknowledgeCause(String id, String who) {
        return keeper.alarms().stream()
                .filter(alarm -> id(alarm.key()).equals(id))
                .findFirst()
                .map(
                        alarm ->
                                keeper.act(
                                        alarm.event()
                                                .<OperatorAction>map(
                                                        OperatorAction.AcknowledgeEvent::new)
                                                .orElse(
                                                        new OperatorAction.Acknowledge(
                                                                alarm.key())),
                                        who))
                .orElse(Optional.of("This alarm is over."));
    }
}
