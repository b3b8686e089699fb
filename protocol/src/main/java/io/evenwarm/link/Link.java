package io.evenwarm.link;

import io.evenwarm.message.Message;
import java.time.Duration;
import java.util.Optional;

/**
 * A line to one other program, over which messages go both ways in order.
 *
 * <p>Threads: one thread may send while another receives; {@link #close()} may be called from any
 * thread and frees both at once. Sending may block while the other side does not read: never call
 * it from the control thread.
 */
public interface Link extends AutoCloseable {

    /**
     * Sends one message.
     *
     * @throws LinkException when the link is or gets lost
     */
    void send(Message message) throws LinkException;

    /**
     * Waits for the next message. Damaged frames and messages that can't be understood are passed
     * over and counted.
     *
     * @param timeout how long to wait, above zero
     * @return the message, or empty when none came in time
     * @throws LinkException when the link is or gets lost
     */
    Optional<Message> receive(Duration timeout) throws LinkException;

    /** Who is at the other end, in words for a log or a person. */
    String peer();

    /**
     * The key that the other side has proved to hold; empty on a line that proves none, such as a
     * serial one or a local socket.
     */
    default Optional<KeyPin> peerKey() {
        return Optional.empty();
    }

    /** How many damaged or misunderstood frames were passed over so far. */
    long discardedFrames();

    @Override
    void close();
}
