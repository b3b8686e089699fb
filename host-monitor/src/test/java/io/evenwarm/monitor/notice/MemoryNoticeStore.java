package io.evenwarm.monitor.notice;

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

/** What a store would hold, kept in memory; fails when it is told to. */
public final class MemoryNoticeStore implements NoticeStore {

    /** What became of each delivery, in the order in which they came. */
    final Map<DeliveryKey, DeliveryState> states = new LinkedHashMap<>();

    final Map<DeliveryKey, PendingDelivery> rows = new LinkedHashMap<>();
    final Map<String, Escalation.Stand> stands = new LinkedHashMap<>();

    final Map<String, AnswerLink> links = new LinkedHashMap<>();

    /** How often it was asked to keep something: a disk is synced each time. */
    int writes;

    /** Each call fails while this is set. */
    boolean isFull;

    private void touch() throws IOException {
        if (isFull) {
            throw new IOException("the disk is full");
        }
    }

    @Override
    public synchronized Set<DeliveryKey> add(Collection<Addition> additions) throws IOException {
        touch();
        writes++;
        Set<DeliveryKey> added = new LinkedHashSet<>();
        for (Addition addition : additions) {
            for (PendingDelivery delivery : addition.deliveries()) {
                if (rows.putIfAbsent(delivery.key(), delivery) == null) {
                    states.put(delivery.key(), DeliveryState.PENDING);
                    added.add(delivery.key());
                }
            }
        }
        return added;
    }

    @Override
    public synchronized List<PendingDelivery> pending() throws IOException {
        touch();
        List<PendingDelivery> pending = new ArrayList<>();
        rows.forEach(
                (key, row) -> {
                    if (states.get(key) == DeliveryState.PENDING) {
                        pending.add(row);
                    }
                });
        return pending;
    }

    @Override
    public synchronized void tried(DeliveryKey key, int tries, Instant nextTry, String words)
            throws IOException {
        touch();
        rows.computeIfPresent(
                key,
                (same, row) ->
                        new PendingDelivery(
                                row.notice(),
                                row.person(),
                                row.channel(),
                                tries,
                                row.added(),
                                nextTry));
    }

    @Override
    public synchronized void ended(Collection<Ending> endings) throws IOException {
        touch();
        writes++;
        endings.forEach(ending -> states.put(ending.key(), ending.state()));
    }

    @Override
    public synchronized List<Escalation.Stand> escalations() throws IOException {
        touch();
        return List.copyOf(stands.values());
    }

    @Override
    public synchronized void keep(Collection<Escalation.Stand> more) throws IOException {
        touch();
        writes++;
        more.forEach(stand -> stands.put(stand.eventId(), stand));
    }

    @Override
    public synchronized void forget(String eventId, Instant at) throws IOException {
        touch();
        stands.remove(eventId);
        links.replaceAll(
                (hash, link) ->
                        link.notice().eventId().equals(eventId) && link.eventEnded().isEmpty()
                                ? new AnswerLink(
                                        hash,
                                        link.notice(),
                                        link.person(),
                                        link.made(),
                                        Optional.of(at))
                                : link);
    }

    @Override
    public synchronized int lastRevision(String eventId) throws IOException {
        touch();
        return rows.values().stream()
                .map(PendingDelivery::notice)
                .filter(notice -> notice.eventId().equals(eventId))
                .mapToInt(Notice::revision)
                .max()
                .orElse(0);
    }

    @Override
    public synchronized void keep(AnswerLink link) throws IOException {
        touch();
        links.putIfAbsent(link.tokenHash(), link);
    }

    @Override
    public synchronized Optional<AnswerLink> link(String tokenHash) throws IOException {
        touch();
        return Optional.ofNullable(links.get(tokenHash));
    }
}
