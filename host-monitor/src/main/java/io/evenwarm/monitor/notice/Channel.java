package io.evenwarm.monitor.notice;

/**
 * One way to reach people. Any thread may call it; {@link #atOnce} of them do, and one more for
 * exercises.
 */
public interface Channel extends AutoCloseable {

    /** As the settings name it. */
    String name();

    /**
     * Hands a notice over and waits for the answer, no longer than the channel's time limit. The
     * same notice may come again after a delivery whose answer was lost: each channel marks it with
     * the notice's id, so that the other side can tell.
     *
     * @return never fails with an exception for what the other side does
     */
    Delivery deliver(Notice notice, Recipient recipient);

    /** How many deliveries go on at once: a hundred events must not wait for each other. */
    default int atOnce() {
        return 1;
    }

    /**
     * Whether it reaches the one person that it is told, and nobody else who listens there: only
     * then a notice holds a link by which that person acknowledges.
     */
    default boolean isForOne() {
        return true;
    }

    /**
     * Nothing waits for it now: what it keeps for the next notice may go. Called often; waits no
     * longer than a delivery.
     */
    default void rest() {}

    /** Says goodbye where that means something. */
    @Override
    void close();
}
