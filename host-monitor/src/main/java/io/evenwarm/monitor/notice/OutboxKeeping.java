package io.evenwarm.monitor.notice;

import java.io.IOException;
import java.time.Instant;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Consumer;
import java.util.function.Supplier;

/**
 * The {@link Outbox}'s side of the store: writers take turns, and what ended while one of them was
 * at it is kept in one go, since each going costs a sync of the disk. Whoever holds the outbox's
 * own lock must not call what waits for a turn.
 */
final class OutboxKeeping {

    private static final System.Logger LOG = System.getLogger(OutboxKeeping.class.getName());

    private final NoticeStore store;

    /** Held while the store is written to. Whoever needs both takes it before any other lock. */
    private final Object turn = new Object();

    /** What has ended but the store was not told yet. Guarded by this, as the next one. */
    private final Map<DeliveryKey, NoticeStore.Ending> untold = new LinkedHashMap<>();

    private Optional<String> trouble = Optional.empty();

    OutboxKeeping(NoticeStore store) {
        this.store = store;
    }

    /** When the next try is, and what the last one said. */
    record Again(int tries, Instant nextTry, String words) {}

    /** Does something while no other writes. */
    void inTurn(Runnable writing) {
        synchronized (turn) {
            writing.run();
        }
    }

    /**
     * Keeps notices with their deliveries.
     *
     * @return those that it had not known; empty when it can't keep them now
     */
    Optional<Set<DeliveryKey>> add(
            Collection<Notice> notices, Collection<PendingDelivery> deliveries) {
        synchronized (turn) {
            try {
                return Optional.of(
                        store.add(
                                notices.stream()
                                        .distinct()
                                        .map(notice -> addition(notice, deliveries))
                                        .toList()));
            } catch (IOException e) {
                troubled(e);
                return Optional.empty();
            }
        }
    }

    private static NoticeStore.Addition addition(
            Notice notice, Collection<PendingDelivery> deliveries) {
        return new NoticeStore.Addition(
                notice,
                deliveries.stream()
                        .filter(there -> there.notice().id().equals(notice.id()))
                        .toList());
    }

    /** Remembers how one ended, for the next {@link #tell}. Waits for nothing. */
    synchronized void ended(DeliveryKey key, DeliveryState state, NoticeTime now, String words) {
        untold.put(key, new NoticeStore.Ending(key, state, now.wall(), words));
    }

    /** Keeps when one is tried again. */
    void tried(DeliveryKey key, Again again) {
        synchronized (turn) {
            try {
                store.tried(key, again.tries(), again.nextTry(), again.words());
            } catch (IOException e) {
                // It is then due at once after a restart, which is no harm.
                troubled(e);
            }
        }
    }

    /**
     * Brings the store up to date with what it was not told yet.
     *
     * @param unstored takes what it was in trouble for; only asked after a trouble
     * @param failed is given that back when it still can't be kept
     */
    void tell(Supplier<List<OutboxEntry>> unstored, Consumer<List<OutboxEntry>> failed) {
        synchronized (turn) {
            List<NoticeStore.Ending> endings;
            boolean wasTroubled;
            synchronized (this) {
                endings = List.copyOf(untold.values());
                wasTroubled = trouble.isPresent();
            }
            try {
                if (!endings.isEmpty()) {
                    store.ended(endings);
                    told(endings);
                }
                if (wasTroubled) {
                    addLate(unstored.get(), failed);
                    recovered();
                }
            } catch (IOException e) {
                troubled(e);
            }
        }
    }

    private synchronized void told(List<NoticeStore.Ending> endings) {
        endings.forEach(ending -> untold.remove(ending.key(), ending));
    }

    private void addLate(List<OutboxEntry> entries, Consumer<List<OutboxEntry>> failed)
            throws IOException {
        try {
            store.add(
                    entries.stream()
                            .map(entry -> entry.delivery)
                            .map(there -> new NoticeStore.Addition(there.notice(), List.of(there)))
                            .toList());
        } catch (IOException e) {
            failed.accept(entries);
            throw e;
        }
    }

    private synchronized void recovered() {
        trouble = Optional.empty();
    }

    private synchronized void troubled(IOException e) {
        String words = String.valueOf(e.getMessage());
        if (trouble.isEmpty()) {
            LOG.log(
                    System.Logger.Level.WARNING,
                    () -> "notices are delivered but can't be kept: " + words);
        }
        trouble = Optional.of(words);
    }

    /** Why the store can't keep what it should; empty when it can. */
    synchronized Optional<String> trouble() {
        return trouble;
    }
}
