package io.evenwarm.monitor.notice;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.WallClock;
import java.io.IOException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;

/**
 * The front of this package: is told what happens to events, and sees to it that people hear of it.
 * One event makes one notice and its follow-ups.
 *
 * <p>Any thread may call it; call {@link #step} every second. No call waits for a channel.
 */
public final class NoticeDesk {

    private static final System.Logger LOG = System.getLogger(NoticeDesk.class.getName());
    private static final int ENDED_MAX = 1000;

    private final NoticeWriter writer;
    private final Map<String, Contact> contacts;
    private final Outbox outbox;
    private final NoticeStore store;
    private final MonotonicClock monotonic;
    private final WallClock wall;

    /** Guarded by this. */
    private final Escalation escalation;

    /**
     * The last revision of events that are over, for when the store can't say. Guarded by this; the
     * eldest goes first.
     */
    private final Map<String, Integer> endedRevisions = new LinkedHashMap<>();

    private NoticeDesk(
            NoticeWriter writer,
            NoticePlan plan,
            Outbox outbox,
            NoticeStore store,
            MonotonicClock monotonic,
            WallClock wall) {
        this.writer = writer;
        this.contacts =
                plan.chain().stream().collect(Collectors.toMap(Contact::person, there -> there));
        this.outbox = outbox;
        this.store = store;
        this.monotonic = monotonic;
        this.wall = wall;
        escalation = new Escalation(plan.chain(), plan.again());
    }

    /** Goes on where it stood when the program ended. */
    public static NoticeDesk open(
            NoticeWriter writer,
            NoticePlan plan,
            Outbox outbox,
            NoticeStore store,
            MonotonicClock monotonic,
            WallClock wall)
            throws IOException {
        NoticeDesk desk = new NoticeDesk(writer, plan, outbox, store, monotonic, wall);
        desk.escalation.restore(store.escalations(), NoticeTime.of(monotonic, wall));
        return desk;
    }

    /**
     * An event began, or there is something new about it that nobody has acknowledged. Those who
     * know of it hear the news, also where they acknowledged what was known before; the others when
     * their turn comes.
     *
     * @param isNews whether there is something that nobody has acknowledged before; else it only
     *     goes to whoever would be told anyway
     * @param isDrill nothing is wrong, but people are to be told as if
     */
    public void report(
            String eventId,
            NoticePriority priority,
            List<CabinetFacts> facts,
            boolean isNews,
            boolean isDrill) {
        report(List.of(new Report(eventId, priority, facts, isNews, isDrill)));
    }

    /** As the other, of one event each: what is kept of all of them is kept in one go. */
    public synchronized void report(List<Report> reports) {
        NoticeTime now = NoticeTime.of(monotonic, wall);
        Round round = new Round();
        for (Report report : reports) {
            take(report, round, now);
        }
        tellWhoIsDue(round, now);
        end(round, now);
    }

    /**
     * What is new of an event.
     *
     * @param isNews as in {@link NoticeDesk#report(String, NoticePriority, List, boolean, boolean)}
     * @param isDrill the same
     */
    public record Report(
            String eventId,
            NoticePriority priority,
            List<CabinetFacts> facts,
            boolean isNews,
            boolean isDrill) {
        public Report {
            facts = List.copyOf(facts);
        }
    }

    /** What one call has to send and to keep. */
    private static final class Round {
        final List<Outbox.Letter> letters = new ArrayList<>();
        final Set<String> events = new LinkedHashSet<>();
    }

    private void take(Report report, Round round, NoticeTime now) {
        String eventId = report.eventId();
        Optional<Escalation.Stand> before = escalation.stand(eventId);
        NoticeKind kind =
                report.isDrill()
                        ? NoticeKind.DRILL
                        // Of one that comes back, people have been told before.
                        : before.isPresent() || endedRevision(eventId) > 0
                                ? NoticeKind.FOLLOW_UP
                                : NoticeKind.FIRST;
        Notice notice = write(eventId, kind, report.priority(), report.facts(), now.wall());
        escalation.update(notice, now);
        boolean isOld = !report.isNews() && isAcknowledged(eventId);
        if (before.isPresent() && !before.get().everTold().isEmpty() && !isOld) {
            round.letters.add(letter(notice, before.get().everTold()));
        }
        round.events.add(eventId);
    }

    private boolean isAcknowledged(String eventId) {
        return escalation.stand(eventId).map(Escalation.Stand::isAcknowledged).orElse(false);
    }

    /** An event is over: whoever heard of it hears that too. */
    public synchronized void clear(String eventId, List<CabinetFacts> facts) {
        Optional<Escalation.Stand> stand = escalation.stand(eventId);
        if (stand.isEmpty()) {
            return;
        }
        NoticeTime now = NoticeTime.of(monotonic, wall);
        Notice latest = stand.get().latest();
        if (!stand.get().everTold().isEmpty()) {
            Notice over =
                    write(
                            eventId,
                            latest.kind() == NoticeKind.DRILL
                                    ? NoticeKind.DRILL_OVER
                                    : NoticeKind.ALL_CLEAR,
                            latest.priority(),
                            facts,
                            now.wall());
            outbox.add(List.of(letter(over, stand.get().everTold())), now);
        }
        endedRevisions.put(eventId, latest.revision() + 1);
        if (endedRevisions.size() > ENDED_MAX) {
            endedRevisions.remove(endedRevisions.keySet().iterator().next());
        }
        escalation.end(eventId);
        try {
            store.forget(eventId, now.wall());
        } catch (IOException e) {
            // After a restart it would be told of again, which is better than the other way round.
            LOG.log(System.Logger.Level.WARNING, "an event that is over can't be removed", e);
        }
    }

    /**
     * Somebody knows: what waits does not go out any more, and nobody else is told.
     *
     * @return whether the event is open
     */
    public synchronized boolean acknowledge(String eventId) {
        NoticeTime now = NoticeTime.of(monotonic, wall);
        boolean isOpen = escalation.stand(eventId).isPresent();
        escalation.acknowledge(eventId);
        keep(List.of(eventId));
        outbox.acknowledge(eventId, now);
        return isOpen;
    }

    /** Tells whoever is to be told by now. */
    public synchronized void step() {
        step(NoticeTime.of(monotonic, wall));
    }

    private void step(NoticeTime now) {
        Round round = new Round();
        tellWhoIsDue(round, now);
        end(round, now);
    }

    private void tellWhoIsDue(Round round, NoticeTime now) {
        for (Outbox.Unreached who : outbox.takeUnreached()) {
            escalation.unreached(who.eventId(), who.person());
        }
        for (Escalation.Tell tell : escalation.step(now)) {
            Notice latest = escalation.stand(tell.eventId()).orElseThrow().latest();
            Notice notice = latest;
            if (!tell.isFirst()) {
                // The same notice again would be the same delivery: it says what it said, newly.
                notice =
                        write(
                                latest.eventId(),
                                latest.kind() == NoticeKind.DRILL
                                        ? NoticeKind.DRILL
                                        : NoticeKind.FOLLOW_UP,
                                latest.priority(),
                                latest.cabinets(),
                                now.wall());
                escalation.update(notice, now);
            }
            round.letters.add(letter(notice, List.of(tell.contact().person())));
            round.events.add(tell.eventId());
        }
    }

    private void end(Round round, NoticeTime now) {
        if (!round.letters.isEmpty()) {
            outbox.add(round.letters, now);
        }
        keep(round.events);
    }

    private Notice write(
            String eventId,
            NoticeKind kind,
            NoticePriority priority,
            List<CabinetFacts> facts,
            Instant at) {
        int last =
                escalation
                        .stand(eventId)
                        .map(stand -> stand.latest().revision())
                        .orElseGet(() -> endedRevision(eventId));
        return writer.write(eventId, last + 1, kind, at, priority, facts);
    }

    /**
     * An event that comes back counts on: a notice of the same revision would be the same one, and
     * that has been delivered already.
     */
    private int endedRevision(String eventId) {
        int known = endedRevisions.getOrDefault(eventId, 0);
        try {
            return Math.max(known, store.lastRevision(eventId));
        } catch (IOException e) {
            LOG.log(System.Logger.Level.WARNING, "what was said of an event can't be read", e);
            return known;
        }
    }

    /** Where every open event stands. */
    public synchronized List<Escalation.Stand> stands() {
        return escalation.stands();
    }

    /** How urgent the newest notice of an event is; empty when the event is not open. */
    public synchronized Optional<NoticePriority> priority(String eventId) {
        return escalation.stand(eventId).map(stand -> stand.latest().priority());
    }

    private Outbox.Letter letter(Notice notice, Collection<String> persons) {
        List<Outbox.Way> ways = new ArrayList<>();
        for (String person : persons) {
            Contact contact = contacts.get(person);
            // Who stood in the chain before a restart may not stand in it any more.
            if (contact != null) {
                contact.channels().forEach(channel -> ways.add(new Outbox.Way(person, channel)));
            }
        }
        return new Outbox.Letter(notice, ways);
    }

    private void keep(Collection<String> eventIds) {
        List<Escalation.Stand> stands =
                eventIds.stream().flatMap(event -> escalation.stand(event).stream()).toList();
        if (stands.isEmpty()) {
            return;
        }
        try {
            store.keep(stands);
        } catch (IOException e) {
            LOG.log(
                    System.Logger.Level.WARNING,
                    "who knows of an event can't be kept; it goes on until the program ends",
                    e);
        }
    }

    /** How the queue is. */
    public OutboxHealth health() {
        return outbox.health(NoticeTime.of(monotonic, wall));
    }
}
