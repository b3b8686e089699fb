package io.evenwarm.link;

import io.evenwarm.codec.MessageCodec;
import io.evenwarm.frame.FrameReader;
import io.evenwarm.frame.FrameWriter;
import io.evenwarm.message.Message;
import java.io.IOException;
import java.lang.System.Logger.Level;
import java.time.Duration;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicLong;
import java.util.concurrent.locks.Condition;
import java.util.concurrent.locks.ReentrantLock;
import org.jspecify.annotations.Nullable;

/**
 * The one {@link Link} over any {@link Octets}: messages through codec and frames.
 *
 * <p>A reader thread of its own turns octets into messages, so that a timeout never cuts a read in
 * half, whatever the line under it makes of timeouts. It holds at most {@value #INBOX_LIMIT}
 * messages; while they wait it does not read, and the line's own flow control stops the other side.
 */
final class FramedLink implements Link {

    private static final System.Logger LOG = System.getLogger(FramedLink.class.getName());

    /** Thread-safe, and costly to build anew for each link. */
    private static final MessageCodec CODEC = new MessageCodec();

    static final int INBOX_LIMIT = 32;
    private static final int READ_OCTETS = 8192;
    private static final Duration LONGEST = Duration.ofNanos(Long.MAX_VALUE);

    private final Octets octets;
    private final String peer;
    private final Optional<KeyPin> peerKey;
    private final AtomicLong discarded = new AtomicLong();

    private final ReentrantLock sending = new ReentrantLock();

    /** Guards what follows. */
    private final ReentrantLock state = new ReentrantLock();

    private final Condition changed = state.newCondition();
    private final Deque<Message> inbox = new ArrayDeque<>();
    private boolean closed;
    private @Nullable LinkException lost;

    private FramedLink(Octets octets, String peer, Optional<KeyPin> peerKey) {
        this.octets = octets;
        this.peer = peer;
        this.peerKey = peerKey;
    }

    /** A link that reads from now on. */
    static FramedLink over(Octets octets, String peer) {
        return over(octets, peer, Optional.empty());
    }

    /** As the other, with the key that the other side has proved to hold. */
    static FramedLink over(Octets octets, String peer, Optional<KeyPin> peerKey) {
        FramedLink link = new FramedLink(octets, peer, peerKey);
        Thread reader = new Thread(link.new Reading(), "evenwarm link reader: " + peer);
        reader.setDaemon(true);
        reader.start();
        return link;
    }

    @Override
    public void send(Message message) throws LinkException {
        byte[] payload = CODEC.encode(message);
        if (payload.length > FrameWriter.MAX_PAYLOAD_OCTETS) {
            throw new LinkException(
                    "a message of "
                            + payload.length
                            + " octets was not sent: a frame holds at most "
                            + FrameWriter.MAX_PAYLOAD_OCTETS);
        }
        sendOctets(FrameWriter.frame(payload));
    }

    /** Puts these octets on the line as they are. */
    void sendOctets(byte[] line) throws LinkException {
        sending.lock();
        try {
            checkUsable();
            octets.write(line);
        } catch (LinkException e) {
            lose(e);
            throw e;
        } catch (IOException e) {
            LinkException cause = gone(e);
            lose(cause);
            checkUsable();
            throw cause;
        } finally {
            sending.unlock();
        }
    }

    @Override
    public Optional<Message> receive(Duration timeout) throws LinkException {
        if (timeout.isNegative() || timeout.isZero()) {
            throw new IllegalArgumentException("timeout must be above zero but was " + timeout);
        }
        long leftNanos = timeout.compareTo(LONGEST) < 0 ? timeout.toNanos() : LONGEST.toNanos();
        state.lock();
        try {
            while (true) {
                if (closed) {
                    throw closedHere();
                }
                Message message = inbox.poll();
                if (message != null) {
                    changed.signalAll();
                    return Optional.of(message);
                }
                if (lost != null) {
                    throw again(lost);
                }
                if (leftNanos <= 0) {
                    return Optional.empty();
                }
                leftNanos = changed.awaitNanos(leftNanos);
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new LinkException("interrupted while waiting for " + peer, e);
        } finally {
            state.unlock();
        }
    }

    @Override
    public String peer() {
        return peer;
    }

    @Override
    public Optional<KeyPin> peerKey() {
        return peerKey;
    }

    @Override
    public long discardedFrames() {
        return discarded.get();
    }

    @Override
    public void close() {
        state.lock();
        try {
            closed = true;
            inbox.clear();
            changed.signalAll();
        } finally {
            state.unlock();
        }
        octets.close();
    }

    private void checkUsable() throws LinkException {
        state.lock();
        try {
            if (closed) {
                throw closedHere();
            }
            if (lost != null) {
                throw again(lost);
            }
        } finally {
            state.unlock();
        }
    }

    /** Remembers the first reason, which is the true one, and frees the line and all who wait. */
    private void lose(LinkException reason) {
        state.lock();
        try {
            if (lost == null) {
                lost = reason;
            }
            changed.signalAll();
        } finally {
            state.unlock();
        }
        octets.close();
    }

    /**
     * Waits for room in the inbox (close frees it), so that a flood from the other side fills no
     * memory.
     */
    private boolean deliver(Message message) {
        state.lock();
        try {
            while (inbox.size() >= INBOX_LIMIT && !closed) {
                changed.awaitUninterruptibly();
            }
            if (!closed) {
                inbox.add(message);
                changed.signalAll();
            }
            return !closed;
        } finally {
            state.unlock();
        }
    }

    private LinkException gone(IOException cause) {
        String words = cause.getMessage();
        return new LinkException(
                "the link to " + peer + " is lost" + (words == null ? "" : ": " + words), cause);
    }

    private LinkException closedHere() {
        return new LinkException("the link to " + peer + " is closed at this end");
    }

    /** A new exception for each caller, so that its trace shows the caller. */
    private static LinkException again(LinkException reason) {
        return new LinkException(String.valueOf(reason.getMessage()), reason);
    }

    /** The reader thread's work, and what only it touches. */
    private final class Reading implements Runnable {
        private final FrameReader frames = new FrameReader();
        private long misunderstood;

        @Override
        public void run() {
            byte[] buffer = new byte[READ_OCTETS];
            try {
                while (true) {
                    int count = octets.read(buffer);
                    if (count < 0) {
                        lose(new LinkException(peer + " has closed the link or is gone"));
                        return;
                    }
                    frames.feed(buffer, 0, count, this::take);
                    countDiscarded();
                }
            } catch (LinkException e) {
                lose(e);
            } catch (IOException e) {
                lose(gone(e));
            } finally {
                // Keeps a reason that is known; a fault of our own must not leave a deaf link.
                lose(
                        new LinkException(
                                "the link to " + peer + " ended by a fault in this program"));
            }
        }

        private void take(byte[] payload) {
            CODEC.decode(payload)
                    .fold(
                            message -> {
                                // Whoever sees a message sees the count of what came before it.
                                countDiscarded();
                                return deliver(message);
                            },
                            this::passOver);
        }

        private boolean passOver(String reason) {
            misunderstood++;
            LOG.log(Level.DEBUG, "passed over a message from {0}: {1}", peer, reason);
            return false;
        }

        private void countDiscarded() {
            discarded.set(frames.faults().total() + misunderstood);
        }
    }
}
