package io.evenwarm.nearby;

import io.evenwarm.link.KeyPin;
import java.io.IOException;
import java.lang.System.Logger.Level;
import java.net.InetAddress;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.locks.LockSupport;
import java.util.function.BooleanSupplier;
import javax.jmdns.JmDNS;
import javax.jmdns.impl.JmDNSImpl;

/**
 * Shows an agent on the local networks while that is wanted. A daemon thread of its own does all of
 * it: nobody waits for it, and its failures are logged and tried again.
 *
 * <p>The library remembers what others on the network say for as long as they ask it to, without a
 * bound. So it runs only while it is wanted, and rests when it has heard suspiciously much.
 */
public final class Announcer implements AutoCloseable {

    /** What the library may have heard; a home with a hundred devices stays far below. */
    static final int MAX_HEARD = 2_000;

    private static final System.Logger LOG = System.getLogger(Announcer.class.getName());
    private static final long ROUND_NANOS = 1_000_000_000L;
    private static final int NETWORKS_EVERY_ROUNDS = 10;
    private static final int REST_ROUNDS = 600;

    private final KeyPin key;
    private final int port;
    private final Optional<InetAddress> only;
    private final BooleanSupplier wanted;
    private final Map<InetAddress, JmDNS> responders = new HashMap<>();
    private final Set<InetAddress> troubled = new HashSet<>();
    private final Thread thread;
    private volatile boolean isClosed;

    private Announcer(KeyPin key, int port, Optional<InetAddress> only, BooleanSupplier wanted) {
        this.key = key;
        this.port = port;
        this.only = only;
        this.wanted = wanted;
        this.thread = new Thread(this::run, "announce");
    }

    /**
     * Begins; returns at once.
     *
     * @param key of the agent
     * @param port where it listens
     * @param only the one address where it listens; empty: at all of them, and then it is not
     *     announced to its own machine
     * @param wanted asked each second
     */
    public static Announcer start(
            KeyPin key, int port, Optional<InetAddress> only, BooleanSupplier wanted) {
        Announcer announcer = new Announcer(key, port, only, wanted);
        announcer.thread.setDaemon(true);
        announcer.thread.start();
        return announcer;
    }

    private void run() {
        int restRounds = 0;
        for (long round = 0; !isClosed; round++) {
            try {
                if (restRounds > 0) {
                    restRounds--;
                } else if (!wanted.getAsBoolean()) {
                    end();
                } else if (hasHeardTooMuch()) {
                    end();
                    restRounds = REST_ROUNDS;
                    LOG.log(
                            Level.WARNING,
                            "the local network is flooded with service announcements: this agent"
                                    + " does not show itself there for {0} min",
                            REST_ROUNDS / 60);
                } else if (responders.isEmpty() || round % NETWORKS_EVERY_ROUNDS == 0) {
                    follow(only.isPresent() ? List.of(only.get()) : networks());
                }
            } catch (IOException | RuntimeException e) {
                LOG.log(Level.WARNING, "this agent is not announced: {0}", e.getMessage());
                restRounds = NETWORKS_EVERY_ROUNDS;
            }
            LockSupport.parkNanos(ROUND_NANOS);
        }
        end();
    }

    private static List<InetAddress> networks() throws IOException {
        return Service.ownAddresses().stream()
                .filter(address -> !address.isLoopbackAddress())
                .toList();
    }

    /** Networks come and go: a cable, a radio that finds its access point late. */
    private void follow(List<InetAddress> addresses) {
        for (InetAddress address : Set.copyOf(responders.keySet())) {
            if (!addresses.contains(address)) {
                Parting.of(List.of(responders.remove(address)));
            }
        }
        for (InetAddress address : addresses) {
            if (!responders.containsKey(address)) {
                open(address);
            }
        }
    }

    private void open(InetAddress address) {
        try {
            JmDNS responder = Service.responder(address, Service.hostName(key));
            responders.put(address, responder);
            responder.registerService(Service.info(key, port));
            troubled.remove(address);
        } catch (IOException e) {
            if (troubled.add(address)) {
                LOG.log(
                        Level.WARNING,
                        "this agent is not announced at {0}: {1}",
                        address.getHostAddress(),
                        e.getMessage());
            }
        }
    }

    private boolean hasHeardTooMuch() {
        return responders.values().stream()
                .anyMatch(
                        responder ->
                                responder instanceof JmDNSImpl heard
                                        && heard.getCache().allValues().size() > MAX_HEARD);
    }

    private void end() {
        if (!responders.isEmpty()) {
            Parting.of(List.copyOf(responders.values()));
            responders.clear();
        }
    }

    /** Takes the announcement back; does not wait for that. */
    @Override
    public void close() {
        isClosed = true;
        LockSupport.unpark(thread);
    }
}
