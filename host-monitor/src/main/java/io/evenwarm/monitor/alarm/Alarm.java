package io.evenwarm.monitor.alarm;

import io.evenwarm.monitor.alarm.AlarmStatus.Shelf;
import io.evenwarm.monitor.alarm.LifeCycle.Circumstances;
import java.util.Optional;
import java.util.function.Supplier;

/** One alarm: its condition's delays, and where it stands in its life cycle. */
final class Alarm {

    /** Who changes what no person changed. */
    static final String MONITOR = "monitor";

    private static final AlarmWords NO_WORDS = new AlarmWords("", "", "");

    /** Texts cost more than all else here, and nobody reads them faster. */
    private static final long WORDS_LAST_NANOS = 10_000_000_000L;

    /** No usual off-delay is longer. */
    private static final long HELD_NANOS = 301_000_000_000L;

    private final AlarmKey key;
    private final AlarmKind kind;
    private AlarmState state = AlarmState.NORMAL;
    private Now stateSince;
    private Delay delay = Delay.AT_REST;
    private Optional<EventId> event = Optional.empty();
    private boolean isEventDue;
    private Urgency urgency;
    private boolean wasAcknowledged;
    private boolean needsReset;
    private Optional<Shelf> shelf = Optional.empty();
    private long lastPresentNanos;
    private AlarmWords words = NO_WORDS;
    private long wordsAtNanos;

    Alarm(AlarmKey key, Now now) {
        this.key = key;
        this.kind = AlarmKinds.of(key.code());
        this.stateSince = now;
        this.urgency = new Urgency(kind.least(), Optional.empty());
        this.lastPresentNanos = now.nanos();
        this.wordsAtNanos = now.nanos();
    }

    Alarm(AlarmStatus kept) {
        key = kept.key();
        kind = AlarmKinds.of(key.code());
        state = kept.state();
        stateSince = kept.stateSince();
        delay = kept.delay();
        event = kept.event();
        urgency = new Urgency(kept.priority(), kept.timeLeft());
        wasAcknowledged = kept.wasAcknowledged();
        needsReset = kept.needsReset();
        shelf = kept.shelf();
        lastPresentNanos = kept.lastPresentNanos();
        words = kept.words();
        wordsAtNanos = kept.wordsAtNanos();
    }

    AlarmStatus status() {
        return new AlarmStatus(
                key,
                state,
                stateSince,
                delay,
                event,
                urgency.priority(),
                urgency.timeLeft(),
                wasAcknowledged,
                needsReset,
                shelf,
                lastPresentNanos,
                words,
                wordsAtNanos);
    }

    AlarmKey key() {
        return key;
    }

    AlarmKind kind() {
        return kind;
    }

    AlarmState state() {
        return state;
    }

    Optional<EventId> event() {
        return event;
    }

    boolean isRaised() {
        return delay.isRaised();
    }

    boolean isOfHighPriority() {
        return urgency.priority() == Priority.HIGH;
    }

    boolean isAwaiting() {
        return state.awaitsAcknowledgement();
    }

    boolean needsReset() {
        return needsReset;
    }

    long lastPresentNanos() {
        return lastPresentNanos;
    }

    /** Monotonic time at which the condition began; of the last change where it is not there. */
    long beganNanos() {
        return delay.isRaised() ? delay.presentSinceNanos() : stateSince.nanos();
    }

    boolean isAtRest() {
        return state == AlarmState.NORMAL && !delay.isRaised() && !delay.isChanging();
    }

    /**
     * Whether its condition is there now, as far as anybody knows. One that comes and goes counts
     * as there for longer, but then explains nothing and presses nobody.
     */
    boolean isThere(Now now) {
        boolean isHeld =
                delay.isChanging() && now.sinceNanos(delay.changingSinceNanos()) >= HELD_NANOS;
        return delay.isRaised() && !isHeld;
    }

    /**
     * Whether it may speak for others. One that a person put away does not: a switch that always
     * says "door open" must not hide the cold.
     */
    boolean explainsOthers(Now now) {
        return isThere(now) && state != AlarmState.SHELVED && state != AlarmState.OUT_OF_SERVICE;
    }

    /** Looks at the condition; the consequences come with {@link #settle}. */
    void look(Look look, Now now) {
        boolean wasRaised = delay.isRaised();
        delay =
                delay.after(
                        look.presence(),
                        look.onDelayNanos(),
                        look.offDelayNanos(),
                        look.beganNanos(),
                        now.nanos());
        if (look.presence() == Presence.PRESENT) {
            lastPresentNanos = now.nanos();
        }
        boolean isNew = delay.isRaised() && !wasRaised;
        if (isNew) {
            wasAcknowledged = false;
            needsReset |= kind.isLatching() && state != AlarmState.OUT_OF_SERVICE;
            isEventDue = true;
            urgency = new Urgency(kind.least(), Optional.empty());
        }
        if (isNew
                || (delay.isRaised()
                        && look.presence() == Presence.PRESENT
                        && now.sinceNanos(wordsAtNanos) >= WORDS_LAST_NANOS)) {
            words = look.words().get();
            wordsAtNanos = now.nanos();
        }
    }

    /** Nobody has looked for a while: a delay that runs begins anew. */
    void interrupt() {
        delay = delay.interrupted();
    }

    /**
     * Draws the consequences of what was looked at and of the time that passed.
     *
     * @param explanation what explains it; empty where nothing does
     * @param newest how pressing it is now
     * @param newEvent finds the event of a new occurrence
     */
    void settle(
            Optional<Explanation> explanation,
            Urgency newest,
            Supplier<EventId> newEvent,
            AlarmTimes times,
            Now now,
            ChangeLog log) {
        boolean isRaised = delay.isRaised();
        boolean hasRisen = false;
        if (isRaised) {
            boolean isNew = isEventDue;
            if (isEventDue) {
                event = Optional.of(newEvent.get());
                isEventDue = false;
            }
            hasRisen =
                    !isNew && isThere(now) && newest.priority().compareTo(urgency.priority()) > 0;
            if (isThere(now)) {
                urgency =
                        new Urgency(
                                Priority.higherOf(newest.priority(), urgency.priority()),
                                newest.timeLeft());
            }
            wasAcknowledged &= !hasRisen;
        }
        if (shelf.isPresent() && now.sinceNanos(shelf.get().untilNanos()) >= 0) {
            move(
                    Trigger.SHELF_ENDED,
                    MONITOR,
                    "the time for which " + shelf.get().who() + " shelved it is over",
                    explanation.isPresent(),
                    now,
                    log);
        }
        if (state == AlarmState.SHELVED || state == AlarmState.OUT_OF_SERVICE) {
            return;
        }
        if (!isRaised) {
            settleAbsent(now, log);
        } else if (explanation.isPresent()) {
            move(Trigger.SUPPRESSED, MONITOR, explanation.get().words(), true, now, log);
        } else if (isThere(now) || state != AlarmState.SUPPRESSED_BY_DESIGN) {
            settlePresent(hasRisen, times, now, log);
        }
    }

    private void settleAbsent(Now now, ChangeLog log) {
        if (state == AlarmState.SUPPRESSED_BY_DESIGN) {
            move(
                    Trigger.SUPPRESSION_ENDED,
                    MONITOR,
                    "its condition went while it was explained",
                    false,
                    now,
                    log);
        } else if (state == AlarmState.UNACKNOWLEDGED || state == AlarmState.ACKNOWLEDGED) {
            move(Trigger.RETURNED, MONITOR, "its condition went", false, now, log);
        }
    }

    private void settlePresent(boolean hasRisen, AlarmTimes times, Now now, ChangeLog log) {
        String hurry = hurry();
        switch (state) {
            case SUPPRESSED_BY_DESIGN ->
                    move(
                            Trigger.SUPPRESSION_ENDED,
                            MONITOR,
                            urgency.priority() == Priority.HIGH
                                    ? hurry + ", whatever explains it"
                                    : "what explained it is over, and it is still there",
                            false,
                            now,
                            log);
            case ACKNOWLEDGED -> {
                if (hasRisen) {
                    move(Trigger.RE_ALARMED, MONITOR, hurry, false, now, log);
                } else if (isThere(now)
                        && now.sinceNanos(stateSince.nanos())
                                >= times.reAlarm(urgency.priority()).toNanos()) {
                    String why = "still there " + Texts.length(times.reAlarm(urgency.priority()));
                    move(
                            Trigger.RE_ALARMED,
                            MONITOR,
                            why + " after it was acknowledged",
                            false,
                            now,
                            log);
                }
            }
            case UNACKNOWLEDGED -> {
                if (hasRisen) {
                    log.add(change(state, Trigger.PRIORITY_RAISED, MONITOR, hurry, now, log));
                }
            }
            case NORMAL, RETURNED_UNACKNOWLEDGED, LATCHED_UNACKNOWLEDGED, LATCHED_ACKNOWLEDGED ->
                    move(Trigger.OCCURRED, MONITOR, words.evidence(), false, now, log);
            case SHELVED, OUT_OF_SERVICE -> {
                // A person put it away.
            }
        }
    }

    private String hurry() {
        return urgency.timeLeft()
                .map(left -> "the eggs have " + Texts.length(left) + " left")
                .orElse("more pressing than before");
    }

    /** Shelves it. */
    boolean shelve(Shelf until, Now now, ChangeLog log) {
        if (!move(Trigger.SHELVED, until.who(), until.why(), false, now, log)) {
            return false;
        }
        shelf = Optional.of(until);
        return true;
    }

    /** Marks it as seen while something else speaks for it: no transition. */
    void acknowledgeSilently() {
        wasAcknowledged = true;
    }

    /** Makes a transition, if the state table has one. Returns whether it has. */
    boolean move(
            Trigger trigger, String who, String why, boolean isExplained, Now now, ChangeLog log) {
        Optional<AlarmState> next =
                LifeCycle.next(
                        state,
                        trigger,
                        new Circumstances(
                                delay.isRaised(), isExplained, wasAcknowledged, needsReset));
        if (next.isEmpty()) {
            return false;
        }
        AlarmState from = state;
        state = next.get();
        stateSince = now;
        if (from == AlarmState.SHELVED) {
            shelf = Optional.empty();
        }
        wasAcknowledged =
                switch (state) {
                    case ACKNOWLEDGED, LATCHED_ACKNOWLEDGED -> true;
                    case SUPPRESSED_BY_DESIGN -> wasAcknowledged && from != AlarmState.SHELVED;
                    default -> false;
                };
        if (trigger == Trigger.RESET) {
            needsReset = false;
        } else {
            needsReset |= kind.isLatching() && state == AlarmState.UNACKNOWLEDGED;
        }
        log.add(change(from, trigger, who, why, now, log));
        return true;
    }

    private AlarmChange change(
            AlarmState from, Trigger trigger, String who, String why, Now now, ChangeLog log) {
        long began = beganNanos();
        return new AlarmChange(
                log.take(),
                key,
                event,
                from,
                state,
                trigger,
                now,
                who,
                why,
                urgency.priority(),
                urgency.timeLeft(),
                began,
                now.wallOf(began),
                words);
    }
}
