package io.evenwarm.link;

import java.io.IOException;
import java.lang.System.Logger.Level;
import java.net.InetSocketAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.time.Duration;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.Condition;
import java.util.concurrent.locks.ReentrantLock;
import javax.net.ssl.SSLContext;
import javax.net.ssl.SSLSocket;

/**
 * Lets programs with trusted keys in.
 *
 * <p>One thread takes connections; each handshake runs on a thread of its own, at most {@value
 * #HANDSHAKES_MAX} at once and 10 s each, so that a program that connects and says nothing holds up
 * nobody: when all places are taken, the oldest unfinished handshake gives up its place to a
 * newcomer. Links that nobody accepts wait, at most {@value #WAITING_MAX}; further ones are closed.
 */
public final class TlsListener implements LinkListener {

    private static final System.Logger LOG = System.getLogger(TlsListener.class.getName());

    static final int HANDSHAKES_MAX = 8;
    static final int WAITING_MAX = 16;
    static final Duration HANDSHAKE_MAX = Duration.ofSeconds(10);
    private static final long FREE_MILLIS_MAX = 500;
    private static final String TOO_LATE = "it took too long to show its key";

    private final ServerSocket server;
    private final SSLContext context;
    private final Duration handshakeMax;

    private final CountDownLatch portIsFree = new CountDownLatch(1);

    /** Guards what follows. */
    private final ReentrantLock state = new ReentrantLock();

    private final Condition changed = state.newCondition();
    private final Deque<Socket> handshakes = new ArrayDeque<>();
    private final Deque<Link> waiting = new ArrayDeque<>();
    private boolean closed;
    private long refusals;
    private Optional<String> lastRefusal = Optional.empty();

    private TlsListener(ServerSocket server, SSLContext context, Duration handshakeMax) {
        this.server = server;
        this.context = context;
        this.handshakeMax = handshakeMax;
    }

    /** Takes connections to {@code server} from now on. */
    static TlsListener start(ServerSocket server, SSLContext context, Duration handshakeMax) {
        TlsListener listener = new TlsListener(server, context, handshakeMax);
        startDaemon(
                "evenwarm link listener " + listener.address(),
                () -> {
                    try {
                        listener.takeConnections();
                    } finally {
                        // Whatever ended it: who waits at this listener must not wait for ever.
                        listener.portIsFree.countDown();
                        listener.close();
                    }
                });
        return listener;
    }

    @Override
    public Link accept() throws LinkException {
        state.lock();
        try {
            while (waiting.isEmpty() && !closed) {
                changed.await();
            }
            Link link = waiting.poll();
            if (closed || link == null) {
                throw new LinkException("the listener at " + address() + " is closed");
            }
            return link;
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new LinkException("interrupted while listening at " + address(), e);
        } finally {
            state.unlock();
        }
    }

    @Override
    public String address() {
        return server.getInetAddress().getHostAddress() + ":" + port();
    }

    /** The TCP port that this listens on, also when any free one was asked for. */
    public int port() {
        return server.getLocalPort();
    }

    /** How many connections were not let in so far. */
    public long refusals() {
        state.lock();
        try {
            return refusals;
        } finally {
            state.unlock();
        }
    }

    /** Who was not let in last, and why, for a person who wonders. */
    public Optional<String> lastRefusal() {
        state.lock();
        try {
            return lastRefusal;
        } finally {
            state.unlock();
        }
    }

    /** Ends {@link #accept()}; links that were accepted live on. */
    @Override
    public void close() {
        state.lock();
        try {
            closed = true;
            handshakes.forEach(Closing::quietly);
            waiting.forEach(Link::close);
            waiting.clear();
            changed.signalAll();
        } finally {
            state.unlock();
        }
        Closing.quietly(server);
        waitUntilThePortIsFree();
    }

    /** The system keeps the port until the thread that waits in accept has left it. */
    private void waitUntilThePortIsFree() {
        try {
            if (!portIsFree.await(FREE_MILLIS_MAX, TimeUnit.MILLISECONDS)) {
                LOG.log(Level.WARNING, "{0} is still in use a while after its close", address());
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    private void takeConnections() {
        while (true) {
            Socket plain;
            try {
                plain = server.accept();
            } catch (IOException e) {
                if (server.isClosed()) {
                    return;
                }
                // For example out of file handles: nothing was taken, others may go on.
                refuse("a connection", "it could not be taken: " + e.getMessage());
                if (!pauseAfterFailure()) {
                    return;
                }
                continue;
            }
            if (begin(plain)) {
                startDaemon("evenwarm link handshake", () -> letIn(plain));
            } else {
                Closing.quietly(plain);
            }
        }
    }

    private boolean begin(Socket plain) {
        state.lock();
        try {
            if (closed) {
                return false;
            }
            if (handshakes.size() == HANDSHAKES_MAX) {
                Closing.quietly(handshakes.poll());
            }
            handshakes.add(plain);
            return true;
        } finally {
            state.unlock();
        }
    }

    private void letIn(Socket plain) {
        InetSocketAddress remote = (InetSocketAddress) plain.getRemoteSocketAddress();
        String where = remote.getAddress().getHostAddress() + ":" + remote.getPort();
        CompletableFuture<Void> limit =
                CompletableFuture.runAsync(
                        () -> giveUp(plain),
                        CompletableFuture.delayedExecutor(
                                handshakeMax.toMillis(), TimeUnit.MILLISECONDS));
        try {
            SSLSocket secure = TlsLinks.layer(context, plain, remote, false);
            secure.startHandshake();
            String peer = TlsLinks.peer(secure, where);
            TlsOctets octets = new TlsOctets(plain, secure);
            octets.write(new byte[] {TlsLinks.LET_IN});
            if (finish(plain)) {
                limit.cancel(false);
                hand(FramedLink.over(octets, peer, Optional.of(TlsLinks.peerKey(secure))));
            } else {
                octets.close();
                refuse(where, TOO_LATE);
            }
        } catch (IOException e) {
            refuse(where, hasPlace(plain) ? TlsRefusals.words(e) : TOO_LATE);
            TlsRefusals.letArrive(plain);
            finish(plain);
            Closing.quietly(plain);
        } finally {
            limit.cancel(false);
        }
    }

    private void giveUp(Socket plain) {
        finish(plain);
        Closing.quietly(plain);
    }

    private boolean hasPlace(Socket plain) {
        state.lock();
        try {
            return handshakes.contains(plain);
        } finally {
            state.unlock();
        }
    }

    /** Frees the handshake's place; whether it still had one. */
    private boolean finish(Socket plain) {
        state.lock();
        try {
            return handshakes.remove(plain) && !closed;
        } finally {
            state.unlock();
        }
    }

    private void hand(Link link) {
        boolean room;
        state.lock();
        try {
            room = !closed && waiting.size() < WAITING_MAX;
            if (room) {
                waiting.add(link);
                changed.signalAll();
            }
        } finally {
            state.unlock();
        }
        if (!room) {
            link.close();
            refuse(link.peer(), "too many links wait to be accepted");
        }
    }

    private void refuse(String who, String why) {
        String words = who + " was not let in: " + why;
        long count;
        state.lock();
        try {
            if (closed) {
                return;
            }
            count = ++refusals;
            lastRefusal = Optional.of(words);
        } finally {
            state.unlock();
        }
        // The first ones, then ever fewer: whoever knocks for ever must not fill a log.
        if (count <= 10 || Long.bitCount(count) == 1) {
            LOG.log(Level.WARNING, "{0} ({1} so far)", words, count);
        }
    }

    private static boolean pauseAfterFailure() {
        try {
            TimeUnit.MILLISECONDS.sleep(200);
            return true;
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            return false;
        }
    }

    private static void startDaemon(String name, Runnable work) {
        Thread thread = new Thread(work, name);
        thread.setDaemon(true);
        thread.start();
    }
}
