package io.evenwarm.monitor.alarm;

import io.evenwarm.monitor.alarm.AlarmStatus.Shelf;
import io.evenwarm.monitor.alarm.OperatorAction.Cases;
import io.evenwarm.monitor.alarm.OperatorAction.Shelve;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.function.Predicate;

/** What people do about alarms: carries it out, or says why not. */
final class OperatorDesk {

    private static final int TEXT_MAX = 200;

    private final AlarmBook book;
    private final AlarmTimes times;
    private final ChangeLog log;

    OperatorDesk(AlarmBook book, AlarmTimes times, ChangeLog log) {
        this.book = book;
        this.times = times;
        this.log = log;
    }

    /**
     * Does it, or says why not.
     *
     * @param isKnown whether there is such a cabinet or agent
     * @param isExplained whether something explains an alarm now
     * @return why nothing was done; empty when it was
     */
    Optional<String> act(
            OperatorAction action,
            String who,
            Predicate<Subject> isKnown,
            Predicate<Alarm> isExplained,
            Now now) {
        if (!isText(who)) {
            return Optional.of(
                    "whoever acts on an alarm must be named, in 1 to " + TEXT_MAX + " characters");
        }
        return action.fold(
                new Cases<>(
                        one -> move(one.key(), Trigger.ACKNOWLEDGED, who, isExplained, now),
                        all -> acknowledge(all.event(), who, now),
                        one -> move(one.key(), Trigger.RESET, who, isExplained, now),
                        all -> reset(all.event(), who, now),
                        shelve -> shelve(shelve, who, isKnown, now),
                        one -> move(one.key(), Trigger.UNSHELVED, who, isExplained, now),
                        out -> takeOut(out, who, isKnown, now),
                        one ->
                                move(
                                        one.key(),
                                        Trigger.RETURNED_TO_SERVICE,
                                        who,
                                        isExplained,
                                        now)));
    }

    private Optional<String> move(
            AlarmKey key, Trigger trigger, String who, Predicate<Alarm> isExplained, Now now) {
        Optional<Alarm> alarm = book.find(key);
        if (alarm.isEmpty()) {
            return Optional.of(
                    key + " is " + AlarmState.NORMAL.words() + " and can't be " + trigger.words());
        }
        boolean isMoved =
                alarm.get()
                        .move(
                                trigger,
                                who,
                                why(trigger, who),
                                isExplained.test(alarm.get()),
                                now,
                                log);
        return isMoved
                ? Optional.empty()
                : Optional.of(
                        key
                                + " is "
                                + alarm.get().state().words()
                                + " and can't be "
                                + trigger.words());
    }

    private Optional<String> acknowledge(EventId event, String who, Now now) {
        List<Alarm> of = of(event);
        boolean isAny = eachOf(of, Trigger.ACKNOWLEDGED, who, now, Alarm::isAwaiting);
        if (!isAny) {
            return Optional.of("no alarm of event " + event + " awaits acknowledgement");
        }
        of.stream()
                .filter(alarm -> alarm.state() == AlarmState.SUPPRESSED_BY_DESIGN)
                .forEach(Alarm::acknowledgeSilently);
        return Optional.empty();
    }

    /** One alarm, however it is in view; nothing where it awaits no acknowledgement. */
    void acknowledge(Alarm alarm, String who, Now now) {
        if (alarm.isAwaiting()) {
            alarm.move(Trigger.ACKNOWLEDGED, who, why(Trigger.ACKNOWLEDGED, who), false, now, log);
        } else if (alarm.state() == AlarmState.SUPPRESSED_BY_DESIGN) {
            alarm.acknowledgeSilently();
        }
    }

    private Optional<String> reset(EventId event, String who, Now now) {
        return eachOf(of(event), Trigger.RESET, who, now, Alarm::needsReset)
                ? Optional.empty()
                : Optional.of("no alarm of event " + event + " is latched with its condition over");
    }

    /** A person's act is its own reason, where none is asked for. */
    private static String why(Trigger trigger, String who) {
        return trigger.words() + " by " + who;
    }

    private List<Alarm> of(EventId event) {
        return book.all().stream()
                .filter(alarm -> alarm.event().equals(Optional.of(event)))
                .toList();
    }

    private boolean eachOf(
            List<Alarm> alarms, Trigger trigger, String who, Now now, Predicate<Alarm> which) {
        boolean isAny = false;
        for (Alarm alarm : alarms) {
            isAny |=
                    which.test(alarm)
                            && alarm.move(trigger, who, why(trigger, who), false, now, log);
        }
        return isAny;
    }

    private Optional<String> shelve(
            Shelve action, String who, Predicate<Subject> isKnown, Now now) {
        Duration length = action.length();
        if (length.isNegative() || length.isZero() || length.compareTo(times.shelfMax()) > 0) {
            return Optional.of(
                    "an alarm can be shelved for more than 0 and at most "
                            + Texts.length(times.shelfMax())
                            + " but "
                            + length
                            + " was asked for");
        }
        Optional<String> refusal = refusal(action.key(), action.why(), isKnown);
        if (refusal.isPresent()) {
            return refusal;
        }
        Alarm alarm = book.findOrMake(action.key(), now);
        Shelf until = new Shelf(now.nanos() + length.toNanos(), who, action.why());
        return alarm.shelve(until, now, log)
                ? Optional.empty()
                : Optional.of(
                        action.key() + " is " + alarm.state().words() + " and can't be shelved");
    }

    private Optional<String> takeOut(
            OperatorAction.TakeOutOfService action,
            String who,
            Predicate<Subject> isKnown,
            Now now) {
        Optional<String> refusal = refusal(action.key(), action.why(), isKnown);
        if (refusal.isPresent()) {
            return refusal;
        }
        Alarm alarm = book.findOrMake(action.key(), now);
        return alarm.move(Trigger.TAKEN_OUT_OF_SERVICE, who, action.why(), false, now, log)
                ? Optional.empty()
                : Optional.of(action.key() + " is out of service already");
    }

    private static Optional<String> refusal(AlarmKey key, String why, Predicate<Subject> isKnown) {
        if (!isKnown.test(key.subject())) {
            return Optional.of("nothing has been heard of " + key.subject());
        }
        return isText(why)
                ? Optional.empty()
                : Optional.of(
                        "a reason is needed, in 1 to "
                                + TEXT_MAX
                                + " characters: whoever comes next must know it");
    }

    private static boolean isText(String text) {
        return !text.isBlank()
                && text.length() <= TEXT_MAX
                && text.chars().noneMatch(Character::isISOControl);
    }
}
