package io.evenwarm.agent.serve;

import io.evenwarm.agent.journal.JournalFeed;
import io.evenwarm.link.Link;
import io.evenwarm.link.LinkException;
import io.evenwarm.message.Message;
import java.time.Duration;
import java.util.Optional;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.TimeUnit;

/**
 * Gives one session its two threads: the caller of {@link #run} thinks and sends, a second one
 * receives and watches that the first is not stuck in a send.
 *
 * <p>What the other side sends faster than it is worked off waits in a bounded box; then nothing
 * more is read, and the link's own flow control stops the sender.
 */
final class SessionRunner implements Runnable {

    private static final System.Logger LOG = System.getLogger(SessionRunner.class.getName());

    private static final int MAX_INBOX = 32;
    private static final long LOOK_NANOS = 250_000_000L;
    private static final Duration RECEIVE = Duration.ofMillis(500);

    private final ServeContext context;
    private final Link link;
    private final Peer from;
    private final boolean isStranger;
    private final boolean speaksFirst;
    private final int maxRecords;
    private final ArrayBlockingQueue<Message> inbox = new ArrayBlockingQueue<>(MAX_INBOX);

    private volatile Optional<String> stopReason = Optional.empty();
    private volatile Optional<String> lost = Optional.empty();
    private volatile boolean isSending;
    private volatile long sendingSinceNanos;
    private volatile Optional<Wakeup> wakeup = Optional.empty();

    /**
     * @param from who is at the other end of {@code link}
     */
    SessionRunner(ServeContext context, Link link, Peer from, boolean speaksFirst, int maxRecords) {
        this.context = context;
        this.link = link;
        this.from = from;
        this.isStranger =
                from.fold(
                        trusted -> false,
                        keyed -> context.pairing().roleOf(keyed.key()).isEmpty(),
                        line -> false);
        this.speaksFirst = speaksFirst;
        this.maxRecords = maxRecords;
    }

    /** Whether the other side's key was not among the paired ones when it came. */
    boolean isStranger() {
        return isStranger;
    }

    /** Says goodbye and ends soon. Any thread. */
    void stop(String reason) {
        stopReason = Optional.of(reason);
        wakeup.ifPresent(Wakeup::raise);
    }

    /** Ends at once. Any thread. */
    void stopNow() {
        link.close();
    }

    /** The whole session; returns when it is over and its link closed. */
    @Override
    public void run() {
        Wakeup own = new Wakeup(Thread.currentThread());
        wakeup = Optional.of(own);
        Runnable raise = own::raise;
        long begin = context.clock().nanos();
        try (link;
                Session session =
                        new Session(context, from, speaksFirst, maxRecords, raise, begin)) {
            converseWhileSubscribed(session, own, raise);
            log(session);
        } catch (LinkException e) {
            LOG.log(System.Logger.Level.INFO, "session with {0} lost: {1}", link.peer(), words(e));
        } catch (RuntimeException e) {
            // A mistake of ours, met in one session: it must not close the line to the next.
            LOG.log(System.Logger.Level.ERROR, "session with " + link.peer() + " failed", e);
        }
    }

    private void converseWhileSubscribed(Session session, Wakeup own, Runnable raise)
            throws LinkException {
        JournalFeed.Subscription commits = context.journal().subscribe(session::committed);
        context.board().add(raise);
        try {
            Thread receiver =
                    new Thread(() -> receive(session, own), "session reader " + link.peer());
            receiver.setDaemon(true);
            receiver.start();
            converse(session, own);
        } finally {
            context.board().remove(raise);
            commits.close();
        }
    }

    private void converse(Session session, Wakeup own) throws LinkException {
        long damaged = link.discardedFrames();
        while (!session.isOver()) {
            stopReason.ifPresent(session::end);
            long damagedNow = link.discardedFrames();
            if (damagedNow != damaged) {
                damaged = damagedNow;
                session.cameDamaged();
            }
            takeIn(session);
            Optional<Message> message = session.next(context.clock().nanos());
            if (message.isPresent()) {
                send(message.get());
            } else if (!session.isOver() && inbox.isEmpty()) {
                if (lost.isPresent()) {
                    throw new LinkException(lost.get());
                }
                own.await(LOOK_NANOS);
            }
        }
    }

    private void takeIn(Session session) {
        while (session.isReadyForMore()) {
            Message message = inbox.poll();
            if (message == null) {
                return;
            }
            session.received(message, context.clock().nanos());
        }
    }

    private void send(Message message) throws LinkException {
        sendingSinceNanos = context.clock().nanos();
        isSending = true;
        try {
            link.send(message);
        } finally {
            isSending = false;
        }
    }

    /** The receiver's thread, until the link ends. */
    private void receive(Session session, Wakeup own) {
        try {
            while (true) {
                Optional<Message> message = link.receive(RECEIVE);
                watchSending();
                if (message.isPresent()) {
                    session.heard(context.clock().nanos());
                    while (!inbox.offer(message.get(), RECEIVE.toMillis(), TimeUnit.MILLISECONDS)) {
                        watchSending();
                    }
                    own.raise();
                }
            }
        } catch (LinkException e) {
            lost = Optional.of(words(e));
            own.raise();
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    /** A send that takes so long has nobody at its other end; only closing the link frees it. */
    private void watchSending() throws LinkException {
        if (isSending && context.clock().nanos() - sendingSinceNanos > Session.DEAD_NANOS) {
            link.close();
            throw new LinkException("it reads nothing any more");
        }
    }

    private void log(Session session) {
        // A command at the machine itself is over in a moment, and nothing to tell of.
        boolean isCommand =
                session.peer().map(hello -> hello.side() == Message.Hello.Side.LOCAL).orElse(false);
        LOG.log(
                isCommand ? System.Logger.Level.DEBUG : System.Logger.Level.INFO,
                "session with {0} over: {1}",
                session.peer()
                        .map(hello -> hello.name() + " (" + link.peer() + ")")
                        .orElse(link.peer()),
                session.ending().orElse("ended"));
    }

    private static String words(LinkException e) {
        return String.valueOf(e.getMessage());
    }
}
