package io.evenwarm.monitor.notice;

import java.util.Optional;

/** A delivery in the {@link Outbox}, and how far it is. Guarded by the outbox, as all in it. */
final class OutboxEntry {
    final PendingDelivery delivery;
    final long addedNanos;
    long dueNanos;
    int tries;
    boolean isUnderWay;
    boolean isStored;

    /** Acknowledged or superseded while it was under way: not tried again. */
    Optional<DeliveryState> endsAs = Optional.empty();

    OutboxEntry(PendingDelivery delivery, long addedNanos, long dueNanos, boolean isStored) {
        this.delivery = delivery;
        this.addedNanos = addedNanos;
        this.dueNanos = dueNanos;
        this.tries = delivery.tries();
        this.isStored = isStored;
    }

    DeliveryKey key() {
        return delivery.key();
    }

    Outbox.Unreached told() {
        return new Outbox.Unreached(delivery.notice().eventId(), delivery.person());
    }

    NoticePriority priority() {
        return delivery.notice().priority();
    }

    boolean isExercise() {
        return delivery.notice().kind().isExercise();
    }

    boolean isSameWay(OutboxEntry other) {
        return delivery.person().equals(other.delivery.person())
                && delivery.channel().equals(other.delivery.channel())
                && delivery.notice().eventId().equals(other.delivery.notice().eventId());
    }
}
