package io.evenwarm.agent.serve;

import io.evenwarm.link.LinkException;
import java.time.Duration;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;

/**
 * One place where monitors connect, kept open by a thread of its own: what can't be opened now is
 * tried again.
 */
abstract class Endpoint implements Runnable {

    static final System.Logger LOG = System.getLogger(Endpoint.class.getName());

    static final Duration RETRY = Duration.ofSeconds(5);

    private static final String STOPPING = "the agent stops";

    private final String name;
    private final Duration retry;
    private final Set<SessionRunner> sessions = ConcurrentHashMap.newKeySet();
    private final CountDownLatch closed = new CountDownLatch(1);
    private volatile boolean isOpen;
    private volatile String words = "not open yet";

    Endpoint(String name, Duration retry) {
        this.name = name;
        this.retry = retry;
    }

    /** Opens, serves, and returns when it has to be opened again. */
    abstract void openAndServe() throws LinkException;

    /** Frees whatever {@link #openAndServe} waits in. */
    abstract void closeOpening();

    EndpointState state() {
        return new EndpointState(name, isOpen, words, sessions.size());
    }

    int sessionCount() {
        return sessions.size();
    }

    /** How many of them are with somebody who is not paired. */
    long strangerCount() {
        return sessions.stream().filter(SessionRunner::isStranger).count();
    }

    boolean isClosed() {
        return closed.getCount() == 0;
    }

    void opened(String where) {
        isOpen = true;
        words = where;
        LOG.log(System.Logger.Level.INFO, "{0}: {1}", name, where);
    }

    @Override
    public void run() {
        while (!isClosed()) {
            try {
                openAndServe();
            } catch (LinkException e) {
                failed(String.valueOf(e.getMessage()));
            }
            isOpen = false;
            waitForRetry();
        }
    }

    private void failed(String why) {
        String now = why + ". Tried again every " + RETRY.toSeconds() + " s";
        if (!isClosed() && !now.equals(words)) {
            LOG.log(System.Logger.Level.WARNING, "{0}: {1}", name, now);
        }
        words = now;
    }

    private void waitForRetry() {
        try {
            if (closed.await(retry.toMillis(), TimeUnit.MILLISECONDS)) {
                words = "closed";
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            closed.countDown();
        }
    }

    /** Counts a session from before its thread runs, so that the limit holds. */
    void reserve(SessionRunner session) {
        sessions.add(session);
    }

    /** Runs a session on the calling thread. */
    void runSession(SessionRunner session) {
        try {
            if (isClosed()) {
                session.stop(STOPPING);
            }
            session.run();
        } finally {
            sessions.remove(session);
        }
    }

    /** Has every session say goodbye, and opens nothing any more. */
    void stop() {
        closed.countDown();
        closeOpening();
        sessions.forEach(session -> session.stop(STOPPING));
    }

    void stopNow() {
        sessions.forEach(SessionRunner::stopNow);
    }
}
