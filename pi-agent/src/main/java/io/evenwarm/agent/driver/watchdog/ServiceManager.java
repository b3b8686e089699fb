package io.evenwarm.agent.driver.watchdog;

import io.evenwarm.agent.port.Watchdog;
import java.io.IOException;
import java.lang.System.Logger;
import java.lang.System.Logger.Level;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.Map;
import java.util.Optional;

/**
 * The service manager that started this process, as far as it watches: its notify protocol over a
 * datagram socket [1]. It hears {@code READY=1} with the first completed tick and {@code
 * WATCHDOG=1} with each one; when it hears nothing for the service's {@code WatchdogSec} it ends
 * the process and runs what the service says for afterwards.
 *
 * <p>Where no service manager asks for it, everything here does nothing.
 *
 * <p>Threads: any; the control thread waits for at most one datagram of another thread.
 *
 * <p>[1] sd_notify(3), sd_watchdog_enabled(3), systemd 252
 */
public final class ServiceManager implements Watchdog, AutoCloseable {

    private static final Logger LOG = System.getLogger(ServiceManager.class.getName());
    private static final byte[] FEED = ascii("WATCHDOG=1");
    private static final byte[] READY = ascii("READY=1");
    private static final byte[] READY_AND_FEED = ascii("READY=1\nWATCHDOG=1");
    private static final byte[] STOPPING = ascii("STOPPING=1");

    /** The control tick comes once a second; half of the limit is asked for [1]. */
    private static final Duration SHORTEST_LIMIT = Duration.ofSeconds(2);

    /** The first failure is logged, then one in so many: at 1 Hz one line an hour. */
    private static final long LOG_EVERY = 3600;

    private final Optional<UnixDatagram> socket;
    private final Optional<Duration> limit;
    private boolean isReady;
    private long failures;

    private ServiceManager(Optional<UnixDatagram> socket, Optional<Duration> limit) {
        this.socket = socket;
        this.limit = limit;
    }

    /** No service manager listens. */
    public static ServiceManager none() {
        return new ServiceManager(Optional.empty(), Optional.empty());
    }

    /**
     * The one that the environment tells of.
     *
     * @param environment the process's: {@code NOTIFY_SOCKET}, {@code WATCHDOG_USEC}, {@code
     *     WATCHDOG_PID}
     * @param pid this process
     */
    public static ServiceManager of(Map<String, String> environment, long pid) {
        String name = environment.getOrDefault("NOTIFY_SOCKET", "");
        if (name.isEmpty()) {
            return none();
        }
        try {
            UnixDatagram socket = UnixDatagram.to(name);
            return new ServiceManager(Optional.of(socket), limit(environment, pid));
        } catch (IOException | LinkageError e) {
            LOG.log(
                    Level.ERROR,
                    "the service manager can''t be told that the agent lives, and may end it:"
                            + " NOTIFY_SOCKET is {0}: {1}",
                    name,
                    e.getMessage());
            return none();
        }
    }

    /** How long the process may be silent; empty when nobody watches it [1]. */
    private static Optional<Duration> limit(Map<String, String> environment, long pid) {
        String micros = environment.getOrDefault("WATCHDOG_USEC", "");
        if (micros.isEmpty()) {
            return Optional.empty();
        }
        String watched = environment.getOrDefault("WATCHDOG_PID", "");
        if (!watched.isEmpty() && !watched.equals(Long.toString(pid))) {
            LOG.log(
                    Level.WARNING,
                    "the service manager watches process {0}, but this is {1}: start the agent"
                            + " without a wrapper that stays",
                    watched,
                    Long.toString(pid));
            return Optional.empty();
        }
        try {
            Duration limit = Duration.ofNanos(Math.multiplyExact(Long.parseLong(micros), 1000L));
            if (limit.compareTo(SHORTEST_LIMIT) < 0) {
                LOG.log(
                        Level.WARNING,
                        "the service''s WatchdogSec is {0} s, but a control tick comes once a"
                                + " second: set it to 2 s or more",
                        limit.toMillis() / 1e3);
            }
            return limit.isNegative() || limit.isZero() ? Optional.empty() : Optional.of(limit);
        } catch (NumberFormatException | ArithmeticException e) {
            LOG.log(Level.WARNING, "WATCHDOG_USEC is no number of microseconds: {0}", micros);
            return Optional.empty();
        }
    }

    /** Whether one listens. */
    public boolean isThere() {
        return socket.isPresent();
    }

    /** After how long a silence it ends this process; empty when it doesn't. */
    public Optional<Duration> watchdogLimit() {
        return limit;
    }

    @Override
    public synchronized void tickCompleted() {
        if (socket.isEmpty()) {
            return;
        }
        if (isReady) {
            if (limit.isPresent()) {
                send(FEED);
            }
        } else {
            // Said again until it got through: before it, the service counts as starting.
            isReady = send(limit.isPresent() ? READY_AND_FEED : READY);
        }
    }

    /**
     * What the service manager shows of the agent.
     *
     * @param text one line for a person
     */
    public synchronized void status(String text) {
        send(("STATUS=" + text.replaceAll("\\R", " ")).getBytes(StandardCharsets.UTF_8));
    }

    /** The agent is on its way out. */
    public synchronized void stopping() {
        send(STOPPING);
    }

    private boolean send(byte[] message) {
        if (socket.isEmpty()) {
            return false;
        }
        try {
            socket.get().send(message);
            return true;
        } catch (IOException e) {
            failures++;
            if (failures % LOG_EVERY == 1) {
                LOG.log(
                        Level.WARNING,
                        "the service manager did not take a message ({0} so far): {1}",
                        failures,
                        e.getMessage());
            }
            return false;
        }
    }

    @Override
    public synchronized void close() {
        socket.ifPresent(UnixDatagram::close);
    }

    private static byte[] ascii(String text) {
        return text.getBytes(StandardCharsets.US_ASCII);
    }
}
