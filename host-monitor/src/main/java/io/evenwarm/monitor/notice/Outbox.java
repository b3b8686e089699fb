package io.evenwarm.monitor.notice;

import java.io.IOException;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;

/**
 * What is still to be delivered, and when it is tried again: at least once each, over restarts and
 * power cuts, until it is delivered, refused for good, or its event is acknowledged.
 *
 * <ul>
 *   <li>A newer notice of an event takes the place of an older one that still waits for the same
 *       person and channel: a channel that was down for hours then brings the newest, not a flood.
 *   <li>Exercises are taken apart from the others, and are the first to give way.
 *   <li>When the queue is full, what is least urgent and of that the oldest gives way; a notice
 *       that is less urgent than all that wait is turned away itself. Both are counted and logged.
 *   <li>What the store can't keep is delivered all the same and kept there once it can.
 *   <li>Waits go by the monotonic clock. After a restart only the wall clock knows how much of a
 *       wait is over; whatever it says, no wait is longer than one that begins now.
 * </ul>
 *
 * <p>Asks no clock, starts no thread and calls no channel: it is told. Any thread may call it.
 * Whoever waits for the store holds up those who also need it, and nobody else; what ended while it
 * was busy is kept in one go.
 */
public final class Outbox {

    private static final System.Logger LOG = System.getLogger(Outbox.class.getName());
    private static final Duration WAITED_MAX = Duration.ofDays(30);
    private static final int REACHED_MAX = 5000;

    private final OutboxKeeping keeping;
    private final OutboxLimits limits;
    private final RetryWaits waits;

    /** Guarded by this, as all below. In the order in which they were added. */
    private final Map<DeliveryKey, OutboxEntry> pending = new LinkedHashMap<>();

    /** Who was told of which event in this run; the eldest goes first. */
    private final Set<Unreached> reached = new LinkedHashSet<>();

    private final List<Unreached> unreached = new ArrayList<>();
    private final Map<String, String> lastWords = new TreeMap<>();
    private long refusedCount;
    private long overflowedCount;

    /** One delivery that is to be tried now. Give it back to {@link #done}. */
    public record Attempt(Notice notice, String person, String channel, int tries) {
        DeliveryKey key() {
            return new DeliveryKey(notice.id(), person, channel);
        }
    }

    private Outbox(NoticeStore store, OutboxLimits limits, long seed) {
        keeping = new OutboxKeeping(store);
        this.limits = limits;
        waits = new RetryWaits(seed);
    }

    /**
     * Takes up what the store holds from before.
     *
     * @param seed of the chance in its waits
     */
    public static Outbox open(NoticeStore store, OutboxLimits limits, long seed, NoticeTime now)
            throws IOException {
        Outbox outbox = new Outbox(store, limits, seed);
        for (PendingDelivery delivery : store.pending()) {
            Duration wait =
                    clamp(Duration.between(now.wall(), delivery.nextTry()), RetryWaits.LONGEST);
            Duration waited = clamp(Duration.between(delivery.added(), now.wall()), WAITED_MAX);
            outbox.pending.put(
                    delivery.key(),
                    new OutboxEntry(
                            delivery,
                            now.nanos() - waited.toNanos(),
                            now.nanos() + wait.toNanos(),
                            true));
        }
        return outbox;
    }

    private static Duration clamp(Duration duration, Duration max) {
        return duration.isNegative() ? Duration.ZERO : duration.compareTo(max) > 0 ? max : duration;
    }

    /**
     * Somebody was not told of an event, and will not be: by each of their channels it was refused
     * for good.
     */
    public record Unreached(String eventId, String person) {}

    /** Those who were found out since the last call. */
    public synchronized List<Unreached> takeUnreached() {
        List<Unreached> taken = List.copyOf(unreached);
        unreached.clear();
        return taken;
    }

    private void refused(OutboxEntry entry) {
        Unreached who = entry.told();
        boolean hasOtherWay = pending.values().stream().anyMatch(there -> there.told().equals(who));
        if (!hasOtherWay && !reached.contains(who)) {
            unreached.add(who);
        }
    }

    /** One way to one person. */
    public record Way(String person, String channel) {}

    /**
     * A notice, and whom it goes to.
     *
     * @param ways each once; the others are passed over
     */
    public record Letter(Notice notice, Collection<Way> ways) {
        public Letter {
            ways = List.copyOf(ways);
        }
    }

    /** As {@link #add(Collection, NoticeTime)}, of one. */
    public void add(Notice notice, Collection<Way> ways, NoticeTime now) {
        add(List.of(new Letter(notice, ways)), now);
    }

    /**
     * Takes notices, which are kept when this returns, unless the store is in trouble. The same
     * notice to the same person by the same channel is taken once.
     */
    public void add(Collection<Letter> letters, NoticeTime now) {
        keeping.inTurn(
                () -> {
                    tellStore();
                    Map<DeliveryKey, PendingDelivery> deliveries = deliveries(letters, now);
                    Optional<Set<DeliveryKey>> added =
                            keeping.add(
                                    letters.stream().map(Letter::notice).toList(),
                                    deliveries.values());
                    putAll(deliveries.values(), added, now);
                    tellStore();
                });
    }

    /**
     * @param added those that the store had not known; empty when it could not take them
     */
    private synchronized void putAll(
            Collection<PendingDelivery> deliveries,
            Optional<Set<DeliveryKey>> added,
            NoticeTime now) {
        for (PendingDelivery delivery : deliveries) {
            if (added.isEmpty() || added.get().contains(delivery.key())) {
                put(new OutboxEntry(delivery, now.nanos(), now.nanos(), added.isPresent()), now);
            }
        }
    }

    /** Those that do not wait already. */
    private synchronized Map<DeliveryKey, PendingDelivery> deliveries(
            Collection<Letter> letters, NoticeTime now) {
        Map<DeliveryKey, PendingDelivery> deliveries = new LinkedHashMap<>();
        for (Letter letter : letters) {
            for (Way way : letter.ways()) {
                PendingDelivery delivery =
                        new PendingDelivery(
                                letter.notice(),
                                way.person(),
                                way.channel(),
                                0,
                                now.wall(),
                                now.wall());
                if (!pending.containsKey(delivery.key())) {
                    deliveries.putIfAbsent(delivery.key(), delivery);
                }
            }
        }
        return deliveries;
    }

    /** Call it with this held, and {@link #tellStore} after it. */
    private void put(OutboxEntry entry, NoticeTime now) {
        for (OutboxEntry older : List.copyOf(pending.values())) {
            if (older.isSameWay(entry)) {
                if (older.delivery.notice().revision() > entry.delivery.notice().revision()) {
                    pending.put(entry.key(), entry);
                    end(entry, DeliveryState.SUPERSEDED, "a newer one waits", now);
                    return;
                }
                endUnlessUnderWay(
                        older, DeliveryState.SUPERSEDED, "a newer one took its place", now);
            }
        }
        pending.put(entry.key(), entry);
        if (pending.size() > limits.pendingMax()) {
            OutboxEntry victim =
                    pending.values().stream()
                            .filter(there -> !there.isUnderWay)
                            .min(
                                    Comparator.comparing((OutboxEntry there) -> !there.isExercise())
                                            .thenComparing(OutboxEntry::priority))
                            .orElse(entry);
            overflowedCount++;
            LOG.log(
                    System.Logger.Level.WARNING,
                    () ->
                            "the queue of notices is full with "
                                    + limits.pendingMax()
                                    + ": dropped \""
                                    + victim.delivery.notice().subject()
                                    + "\" to "
                                    + victim.delivery.person());
            end(victim, DeliveryState.OVERFLOWED, "the queue was full", now);
        }
    }

    /**
     * Somebody knows of the event: nothing of it that waits goes out any more.
     *
     * @return how many deliveries that were
     */
    public int acknowledge(String eventId, NoticeTime now) {
        int count = 0;
        synchronized (this) {
            for (OutboxEntry entry : List.copyOf(pending.values())) {
                if (entry.delivery.notice().eventId().equals(eventId)) {
                    endUnlessUnderWay(
                            entry, DeliveryState.ACKNOWLEDGED, "the event was acknowledged", now);
                    count++;
                }
            }
        }
        tellStore();
        return count;
    }

    /** Call it with this held, and {@link #tellStore} after it. */
    private void endUnlessUnderWay(
            OutboxEntry entry, DeliveryState state, String words, NoticeTime now) {
        if (entry.isUnderWay) {
            entry.endsAs = Optional.of(state);
            // At once: a power cut before it is done must not bring it back.
            if (entry.isStored) {
                keeping.ended(entry.key(), state, now, words);
            }
        } else {
            end(entry, state, words, now);
        }
    }

    /** The most urgent delivery of a channel that is due, if there is one; never an exercise. */
    public Optional<Attempt> take(String channel, NoticeTime now) {
        return take(channel, false, now);
    }

    /** As {@link #take}, of exercises: those travel apart, so that no alarm waits for one. */
    public Optional<Attempt> takeExercise(String channel, NoticeTime now) {
        return take(channel, true, now);
    }

    private synchronized Optional<Attempt> take(
            String channel, boolean isExercise, NoticeTime now) {
        List<OutboxEntry> underWay =
                pending.values().stream().filter(entry -> entry.isUnderWay).toList();
        Optional<OutboxEntry> next =
                pending.values().stream()
                        .filter(
                                entry ->
                                        entry.delivery.channel().equals(channel)
                                                && entry.isExercise() == isExercise
                                                && !entry.isUnderWay
                                                && entry.dueNanos - now.nanos() <= 0
                                                // Two of one event must not overtake each other.
                                                && underWay.stream().noneMatch(entry::isSameWay))
                        .min(
                                Comparator.comparing(OutboxEntry::priority)
                                        .reversed()
                                        .thenComparingLong(entry -> entry.dueNanos - now.nanos()));
        next.ifPresent(entry -> entry.isUnderWay = true);
        return next.map(
                entry ->
                        new Attempt(
                                entry.delivery.notice(),
                                entry.delivery.person(),
                                channel,
                                entry.tries));
    }

    /** What came of an attempt. It is kept when this returns, unless the store is in trouble. */
    public void done(Attempt attempt, Delivery delivery, NoticeTime now) {
        ended(attempt, delivery, now).ifPresent(again -> keeping.tried(attempt.key(), again));
        tellStore();
    }

    private void tellStore() {
        keeping.tell(this::takeUnstored, this::unstored);
    }

    /** What the store does not have. It counts as there from now on: what ends must end there. */
    private synchronized List<OutboxEntry> takeUnstored() {
        List<OutboxEntry> waiting =
                pending.values().stream().filter(entry -> !entry.isStored).toList();
        waiting.forEach(entry -> entry.isStored = true);
        return waiting;
    }

    /** It does not have them after all. */
    private synchronized void unstored(List<OutboxEntry> entries) {
        entries.forEach(entry -> entry.isStored = false);
    }

    private synchronized Optional<OutboxKeeping.Again> ended(
            Attempt attempt, Delivery delivery, NoticeTime now) {
        OutboxEntry entry = pending.get(attempt.key());
        if (entry == null || !entry.isUnderWay) {
            throw new IllegalStateException(attempt.key() + " is not under way");
        }
        entry.isUnderWay = false;
        entry.tries++;
        lastWords.put(attempt.channel(), delivery.words());
        return delivery.fold(
                delivered -> {
                    reached.add(entry.told());
                    if (reached.size() > REACHED_MAX) {
                        reached.remove(reached.iterator().next());
                    }
                    end(entry, DeliveryState.DELIVERED, delivered.words(), now);
                    return Optional.empty();
                },
                again -> failed(entry, again, now),
                refused -> {
                    refusedCount++;
                    log(entry, "was refused: " + refused.words());
                    end(entry, DeliveryState.REFUSED, refused.words(), now);
                    refused(entry);
                    return Optional.empty();
                });
    }

    private Optional<OutboxKeeping.Again> failed(
            OutboxEntry entry, Delivery.TryAgain again, NoticeTime now) {
        if (entry.endsAs.isPresent()) {
            end(entry, entry.endsAs.get(), again.words(), now);
            return Optional.empty();
        }
        Duration wait = waits.after(entry.tries, again.notBefore());
        entry.dueNanos = now.nanos() + wait.toNanos();
        log(
                entry,
                "did not go out (try "
                        + entry.tries
                        + "): "
                        + again.words()
                        + "; again in "
                        + wait.toSeconds()
                        + " s");
        return entry.isStored
                ? Optional.of(
                        new OutboxKeeping.Again(entry.tries, now.wall().plus(wait), again.words()))
                : Optional.empty();
    }

    private static void log(OutboxEntry entry, String what) {
        LOG.log(
                System.Logger.Level.WARNING,
                () ->
                        "notice "
                                + entry.delivery.notice().revision()
                                + " of event "
                                + entry.delivery.notice().eventId()
                                + " to "
                                + entry.delivery.person()
                                + " by "
                                + entry.delivery.channel()
                                + " "
                                + what);
    }

    /** Call it with this held, and {@link #tellStore} after it. */
    private void end(OutboxEntry entry, DeliveryState state, String words, NoticeTime now) {
        pending.remove(entry.key());
        if (entry.isStored) {
            keeping.ended(entry.key(), state, now, words);
        }
    }

    /** How long until something of a channel is due; zero when it is, empty when nothing waits. */
    public synchronized Optional<Duration> untilNext(String channel, NoticeTime now) {
        return pending.values().stream()
                .filter(entry -> entry.delivery.channel().equals(channel) && !entry.isUnderWay)
                .map(entry -> Duration.ofNanos(Math.max(0, entry.dueNanos - now.nanos())))
                .min(Comparator.naturalOrder());
    }

    /** How it is. Also tries the store again where that was in trouble. */
    public OutboxHealth health(NoticeTime now) {
        tellStore();
        return healthNow(now);
    }

    private synchronized OutboxHealth healthNow(NoticeTime now) {
        Map<String, List<OutboxEntry>> byChannel = new TreeMap<>();
        pending.values()
                .forEach(
                        entry ->
                                byChannel
                                        .computeIfAbsent(
                                                entry.delivery.channel(), name -> new ArrayList<>())
                                        .add(entry));
        List<OutboxHealth.StuckChannel> stuck = new ArrayList<>();
        byChannel.forEach(
                (channel, entries) -> {
                    long waitedNanos =
                            entries.stream()
                                    .mapToLong(entry -> now.nanos() - entry.addedNanos)
                                    .max()
                                    .orElse(0);
                    if (waitedNanos >= limits.stuckAfter().toNanos()) {
                        stuck.add(
                                new OutboxHealth.StuckChannel(
                                        channel,
                                        entries.size(),
                                        Duration.ofNanos(waitedNanos),
                                        lastWords.getOrDefault(channel, "")));
                    }
                });
        return new OutboxHealth(
                pending.size(), stuck, refusedCount, overflowedCount, keeping.trouble());
    }
}
