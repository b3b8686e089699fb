package io.evenwarm.monitor.notice;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * Who is told next. A chain of people: the first is told at once, the next when the one before did
 * not acknowledge in time. Whoever is in quiet hours is passed over, and told when those end. Once
 * all are told who can be, it begins again after a while, until somebody acknowledges.
 *
 * <p>What is only to be looked at goes to the first who can be told, and no further.
 *
 * <p>Pure: no clock, thread or I/O; it is given {@code now}. Waits go by the monotonic side, quiet
 * hours by the wall. Used by one thread at a time.
 */
public final class Escalation {

    private final List<Contact> chain;
    private final Duration again;
    private final Map<String, Open> open = new LinkedHashMap<>();

    /**
     * Where the escalation of one event stands, as it is kept over a restart.
     *
     * @param latest the newest notice of the event
     * @param round how often the chain was begun, from 1
     * @param toldThisRound persons, in the order in which they were told
     * @param everTold persons who know of the event
     * @param lastToldAt when somebody was told last, by the wall clock
     * @param isAcknowledged nobody else is told
     */
    public record Stand(
            Notice latest,
            int round,
            List<String> toldThisRound,
            List<String> everTold,
            Instant lastToldAt,
            boolean isAcknowledged) {

        public Stand {
            toldThisRound = List.copyOf(toldThisRound);
            everTold = List.copyOf(everTold);
        }

        public String eventId() {
            return latest.eventId();
        }
    }

    /**
     * Somebody is to be told now.
     *
     * @param isFirst they know nothing of the event yet
     */
    public record Tell(String eventId, Contact contact, boolean isFirst) {}

    private static final class Open {
        Stand stand;
        long lastToldNanos;

        /** It got worse, or went to nobody: who is next need not wait for the one before. */
        boolean isHurried;

        /** Whoever was told last was not reached. */
        boolean isMissed;

        Open(Stand stand, long lastToldNanos) {
            this.stand = stand;
            this.lastToldNanos = lastToldNanos;
        }
    }

    /**
     * Begins with no event open.
     *
     * @param chain in the order in which they are told
     * @param again after how long without an acknowledgement the chain begins again
     */
    public Escalation(List<Contact> chain, Duration again) {
        if (again.isNegative() || again.isZero()) {
            throw new IllegalArgumentException("a chain must not begin again at once: " + again);
        }
        this.chain = List.copyOf(chain);
        this.again = again;
    }

    /** Goes on where it stood. A wall clock that stepped makes no wait longer than a whole one. */
    public void restore(List<Stand> stands, NoticeTime now) {
        Duration longest =
                chain.stream()
                        .map(Contact::answerWithin)
                        .reduce(again, (one, other) -> one.compareTo(other) > 0 ? one : other);
        for (Stand stand : stands) {
            Duration since = Duration.between(stand.lastToldAt(), now.wall());
            Duration clamped =
                    since.isNegative()
                            ? Duration.ZERO
                            : since.compareTo(longest) > 0 ? longest : since;
            open.put(stand.eventId(), new Open(stand, now.nanos() - clamped.toNanos()));
        }
    }

    /** Where an event stands; empty when it is not open. */
    public Optional<Stand> stand(String eventId) {
        return Optional.ofNullable(open.get(eventId)).map(there -> there.stand);
    }

    /** Where every open event stands. */
    public List<Stand> stands() {
        return open.values().stream().map(there -> there.stand).toList();
    }

    /**
     * An event began, or there is something new about it. Something more urgent opens it again
     * though it was acknowledged, and goes on at once.
     */
    public void update(Notice latest, NoticeTime now) {
        Open there = open.get(latest.eventId());
        if (there == null) {
            Stand stand = new Stand(latest, 1, List.of(), List.of(), now.wall(), false);
            open.put(latest.eventId(), new Open(stand, now.nanos()));
            return;
        }
        Stand before = there.stand;
        boolean isWorse = latest.priority().compareTo(before.latest().priority()) > 0;
        boolean isReopened = isWorse && before.isAcknowledged();
        there.stand =
                new Stand(
                        latest,
                        isReopened ? before.round() + 1 : before.round(),
                        isReopened ? List.of() : before.toldThisRound(),
                        before.everTold(),
                        before.lastToldAt(),
                        before.isAcknowledged() && !isWorse);
        there.isHurried |= isWorse;
    }

    /** What this person was to be told was refused for good: the next need not wait for them. */
    public void unreached(String eventId, String person) {
        Open there = open.get(eventId);
        if (there == null || there.stand.isAcknowledged()) {
            return;
        }
        List<String> told = there.stand.toldThisRound();
        if (!told.isEmpty() && told.get(told.size() - 1).equals(person)) {
            there.isHurried = true;
            there.isMissed = true;
        }
    }

    /** Nobody else is told, unless it gets worse. */
    public void acknowledge(String eventId) {
        Open there = open.get(eventId);
        if (there != null) {
            Stand before = there.stand;
            there.stand =
                    new Stand(
                            before.latest(),
                            before.round(),
                            before.toldThisRound(),
                            before.everTold(),
                            before.lastToldAt(),
                            true);
        }
    }

    /** The event is over. */
    public void end(String eventId) {
        open.remove(eventId);
    }

    /** Who is to be told now. */
    public List<Tell> step(NoticeTime now) {
        List<Tell> tells = new ArrayList<>();
        for (Open there : open.values()) {
            Optional<Tell> tell = next(there, now);
            while (tell.isPresent()) {
                tells.add(tell.get());
                tell = next(there, now);
            }
        }
        return tells;
    }

    private Optional<Tell> next(Open there, NoticeTime now) {
        Stand stand = there.stand;
        NoticePriority priority = stand.latest().priority();
        boolean isEnough =
                priority == NoticePriority.LOW && !stand.everTold().isEmpty() && !there.isMissed;
        if (stand.isAcknowledged() || isEnough) {
            return Optional.empty();
        }
        List<String> told = stand.toldThisRound();
        Duration toAnswer =
                told.isEmpty() || there.isHurried
                        ? Duration.ZERO
                        : answerWithin(told.get(told.size() - 1));
        Optional<Contact> contact = reachable(told, priority, now);
        int round = stand.round();
        if (contact.isEmpty() && !told.isEmpty()) {
            // All who can be told were: it begins again.
            contact = reachable(List.of(), priority, now);
            round++;
            told = List.of();
            toAnswer = again.compareTo(toAnswer) > 0 ? again : toAnswer;
        }
        if (contact.isEmpty() || now.nanos() - there.lastToldNanos < toAnswer.toNanos()) {
            return Optional.empty();
        }
        String person = contact.get().person();
        boolean isFirst = !stand.everTold().contains(person);
        there.lastToldNanos = now.nanos();
        there.isHurried = false;
        there.isMissed = false;
        there.stand =
                new Stand(
                        stand.latest(),
                        round,
                        with(told, person),
                        isFirst ? with(stand.everTold(), person) : stand.everTold(),
                        now.wall(),
                        false);
        return Optional.of(new Tell(stand.eventId(), contact.get(), isFirst));
    }

    /** Who stood in the chain before a restart may not stand in it any more. */
    private Duration answerWithin(String person) {
        return chain.stream()
                .filter(contact -> contact.person().equals(person))
                .map(Contact::answerWithin)
                .findFirst()
                .orElse(Duration.ZERO);
    }

    private Optional<Contact> reachable(
            List<String> without, NoticePriority priority, NoticeTime now) {
        return chain.stream()
                .filter(contact -> !without.contains(contact.person()))
                .filter(contact -> contact.isReachable(priority, now))
                .findFirst();
    }

    private static List<String> with(List<String> persons, String person) {
        List<String> more = new ArrayList<>(persons);
        more.add(person);
        return more;
    }
}
