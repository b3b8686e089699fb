package io.evenwarm.agent.serve;

import io.evenwarm.link.Link;
import io.evenwarm.link.LinkException;
import io.evenwarm.link.LinkListener;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.TimeUnit;

/**
 * Sessions with every monitor that connects, wherever it does.
 *
 * <p>Each place where monitors connect and each session has threads of its own; none of them can
 * hold up the control thread, which only pins snapshots to the board. A place that can't be opened,
 * such as a taken port, is said and tried again. Any thread may call.
 */
public final class MonitorServer implements AutoCloseable {

    /** Monitors at one listener. */
    public static final int MAX_MONITORS = 8;

    /** Commands at the agent's own machine, counted apart: monitors can't lock a person out. */
    public static final int MAX_LOCAL = 4;

    private static final long GOODBYE_MILLIS = 400;
    private static final long END_MILLIS = 200;
    private static final long NAP_MILLIS = 5;

    private final ServeContext context;
    private final Duration retry;
    private final List<Endpoint> endpoints = new CopyOnWriteArrayList<>();
    private final List<Thread> threads = new ArrayList<>();

    public MonitorServer(ServeContext context) {
        this(context, Endpoint.RETRY);
    }

    MonitorServer(ServeContext context, Duration retry) {
        this.context = context;
        this.retry = retry;
    }

    /** Opens a listener. */
    @FunctionalInterface
    public interface ListenerOpener {
        LinkListener open() throws LinkException;
    }

    /** Opens a line that has one other end. */
    @FunctionalInterface
    public interface LineOpener {
        Link open() throws LinkException;
    }

    /**
     * Serves whoever connects to a listener. Returns at once.
     *
     * @param name what it is, for people
     * @param opener called on a thread of its own, and again after a failure
     * @param maxSessions who comes when there are as many is told so and turned away
     */
    public synchronized void listen(String name, ListenerOpener opener, int maxSessions) {
        start(name, new ListenerEndpoint(context, name, opener, maxSessions, retry));
    }

    /** Serves the other end of a line. Returns at once. */
    public synchronized void serveLine(String name, LineOpener opener) {
        start(name, new LineEndpoint(context, name, opener, retry));
    }

    private void start(String name, Endpoint endpoint) {
        Thread thread = new Thread(endpoint, "serve " + name);
        thread.setDaemon(true);
        endpoints.add(endpoint);
        threads.add(thread);
        thread.start();
    }

    /** How each place is doing, in the order in which they were added. Never waits. */
    public List<EndpointState> endpoints() {
        return endpoints.stream().map(Endpoint::state).toList();
    }

    /**
     * How many peers are connected that may see snapshots. Never waits.
     *
     * @param except a place whose peers don't count
     */
    public long monitorCount(String except) {
        return endpoints.stream()
                .filter(each -> !each.state().name().equals(except))
                .mapToLong(each -> each.sessionCount() - each.strangerCount())
                .sum();
    }

    /** Says goodbye to every peer, closes everything, and returns within a second. */
    @Override
    public synchronized void close() {
        endpoints.forEach(Endpoint::stop);
        waitForSessions(GOODBYE_MILLIS);
        endpoints.forEach(Endpoint::stopNow);
        waitForSessions(END_MILLIS);
        try {
            for (Thread thread : threads) {
                // Never 0, which would wait for ever.
                thread.join(Math.max(1, END_MILLIS / threads.size()));
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    /** Counts its own naps: a simulated clock may stand still. */
    private void waitForSessions(long millisMax) {
        try {
            for (long waited = 0; waited < millisMax && hasSessions(); waited += NAP_MILLIS) {
                TimeUnit.MILLISECONDS.sleep(NAP_MILLIS);
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    private boolean hasSessions() {
        return endpoints.stream().anyMatch(each -> each.sessionCount() > 0);
    }
}
