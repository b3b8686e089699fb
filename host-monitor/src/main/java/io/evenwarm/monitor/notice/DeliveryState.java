package io.evenwarm.monitor.notice;

/** Where a delivery stands. */
public enum DeliveryState {
    /** Still to be delivered. */
    PENDING("pending"),
    /** The other side has it. */
    DELIVERED("delivered"),
    /** The other side refused it for good. */
    REFUSED("refused"),
    /** A newer notice of the same event took its place before it went out. */
    SUPERSEDED("superseded"),
    /** Somebody acknowledged the event before it went out. */
    ACKNOWLEDGED("acknowledged"),
    /** It gave way to others when the queue was full. */
    OVERFLOWED("overflowed");

    private final String word;

    DeliveryState(String word) {
        this.word = word;
    }

    /** As the store keeps it. */
    public String word() {
        return word;
    }
}
