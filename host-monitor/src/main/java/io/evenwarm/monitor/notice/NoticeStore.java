package io.evenwarm.monitor.notice;

import java.io.IOException;
import java.time.Instant;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * What the outbox keeps over a restart or a power cut. Each call is done whole and durably when it
 * returns, or not at all when it throws; nothing is lost then but what that call was to keep.
 */
public interface NoticeStore {

    /**
     * Keeps notices with their deliveries. Those that are known already, ended ones too, are passed
     * over.
     *
     * @return the keys of those that were new
     */
    Set<DeliveryKey> add(Collection<Addition> additions) throws IOException;

    /**
     * A notice that is to be kept.
     *
     * @param deliveries of this notice
     */
    record Addition(Notice notice, List<PendingDelivery> deliveries) {
        public Addition {
            deliveries = List.copyOf(deliveries);
        }
    }

    /** All that has not ended, the oldest first. */
    List<PendingDelivery> pending() throws IOException;

    /** A try failed; the next is due then. */
    void tried(DeliveryKey key, int tries, Instant nextTry, String words) throws IOException;

    /** These have ended. */
    void ended(Collection<Ending> endings) throws IOException;

    /**
     * A delivery that has ended.
     *
     * @param at when, by the wall clock
     * @param words what was said of it, for whoever looks later
     */
    record Ending(DeliveryKey key, DeliveryState state, Instant at, String words) {}

    /** Where the escalation of each open event stands. */
    List<Escalation.Stand> escalations() throws IOException;

    /** Keeps where these stand; their events' stands before are gone. */
    void keep(Collection<Escalation.Stand> stands) throws IOException;

    /**
     * An event is over: it needs no further escalation, and its links end a while after.
     *
     * @param at when, by the wall clock
     */
    void forget(String eventId, Instant at) throws IOException;

    /**
     * The highest revision that a notice of this event has had, also when the event is over: one
     * that comes back goes on counting. 0 when there was none.
     */
    int lastRevision(String eventId) throws IOException;

    /** Keeps a link by which a person may answer; one that is known already stays as it was. */
    void keep(AnswerLink link) throws IOException;

    /**
     * Finds one.
     *
     * @param tokenHash as {@link AnswerLink#tokenHash()}
     */
    Optional<AnswerLink> link(String tokenHash) throws IOException;
}
