package io.evenwarm.monitor;

import io.evenwarm.clock.SystemClock;
import io.evenwarm.link.Identity;
import io.evenwarm.link.KeyPin;
import io.evenwarm.link.Link;
import io.evenwarm.link.LinkException;
import io.evenwarm.link.TlsLinks;
import io.evenwarm.link.TlsListener;
import io.evenwarm.message.BootId;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Finding;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.GuardState;
import io.evenwarm.message.Limits;
import io.evenwarm.message.Message;
import io.evenwarm.message.Moment;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.Reading;
import io.evenwarm.quantity.Duty;
import io.evenwarm.quantity.Temperature;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.ConcurrentHashMap;
import java.util.stream.IntStream;

/**
 * An agent by the book of the protocol over real TLS, whose invented cabinets are all at their set
 * point and have the findings that a test gives them. One thread for each link.
 */
public final class FoundByHand implements AutoCloseable {

    private static final Duration POLL = Duration.ofMillis(50);
    private static final long EVERY_NANOS = 1_000_000_000L;
    private static final Temperature SET_POINT = Temperature.ofCelsius(31.5);
    private static final Limits LIMITS =
            new Limits(
                    Temperature.ofCelsius(30.5),
                    Temperature.ofCelsius(32.5),
                    Temperature.ofCelsius(33.5),
                    Temperature.ofCelsius(34.5));

    private final String name;
    private final Identity identity;
    private final List<CabinetName> cabinets;
    private final TlsListener listener;
    private final BootId boot = new BootId(UUID.randomUUID());
    private final Map<CabinetName, FindingCode> found = new ConcurrentHashMap<>();

    /** When a finding first went out to a monitor. */
    private final Map<CabinetName, Instant> firstSent = new ConcurrentHashMap<>();

    /**
     * Begins to listen.
     *
     * @param cabinetCount its cabinets are called by the agent's name and a number from 1
     * @param monitor who is let in
     */
    public FoundByHand(String name, int cabinetCount, KeyPin monitor) throws LinkException {
        this.name = name;
        identity = Identity.create(name);
        cabinets =
                IntStream.rangeClosed(1, cabinetCount)
                        .mapToObj(number -> new CabinetName(name + "-" + number))
                        .toList();
        listener =
                TlsLinks.listen(
                        new InetSocketAddress(InetAddress.getLoopbackAddress(), 0),
                        identity,
                        Set.of(monitor));
        daemon(this::accept);
    }

    private static void daemon(Runnable body) {
        Thread thread = new Thread(body, "agent by hand");
        thread.setDaemon(true);
        thread.start();
    }

    /** What a monitor's settings say of it. */
    public String settings() {
        return """
                [[agent]]
                name = "%s"
                address = "127.0.0.1:%d"
                key = "%s"
                """
                .formatted(name, listener.port(), identity.pin());
    }

    /** The names of its cabinets. */
    public List<CabinetName> cabinets() {
        return cabinets;
    }

    /** Finds something from now on. */
    public void find(CabinetName cabinet, FindingCode code) {
        firstSent.remove(cabinet);
        found.put(cabinet, code);
    }

    /** Finds nothing there any more. */
    public void clear(CabinetName cabinet) {
        found.remove(cabinet);
    }

    /** When what is found there now first went out; empty where no monitor was there yet. */
    public Optional<Instant> firstSent(CabinetName cabinet) {
        return Optional.ofNullable(firstSent.get(cabinet));
    }

    private void accept() {
        try {
            while (true) {
                Link link = listener.accept();
                daemon(() -> serve(link));
            }
        } catch (LinkException closed) {
            // The test is over.
            return;
        }
    }

    private void serve(Link link) {
        try (link) {
            boolean isGreeted = false;
            long sentNanos = 0;
            while (true) {
                Optional<Message> message = link.receive(POLL);
                if (message.isPresent()) {
                    isGreeted |= react(link, message.get());
                }
                long nanos = SystemClock.monotonic().nanos();
                if (isGreeted && nanos - sentNanos >= EVERY_NANOS) {
                    sentNanos = nanos;
                    for (CabinetName cabinet : cabinets) {
                        Optional<FindingCode> code = Optional.ofNullable(found.get(cabinet));
                        link.send(new Message.Live(snapshot(cabinet, code, nanos)));
                        if (code.isPresent()) {
                            firstSent.putIfAbsent(cabinet, SystemClock.wall().now());
                        }
                    }
                }
            }
        } catch (LinkException lost) {
            // The monitor was killed: it comes back.
            return;
        }
    }

    /** Returns whether the monitor may be sent what is live. */
    private boolean react(Link link, Message message) throws LinkException {
        if (message instanceof Message.Hello) {
            link.send(new Message.Hello(List.of(1), Message.Hello.Side.AGENT, name, "test", 1));
            return true;
        }
        if (message instanceof Message.HistoryRequest) {
            link.send(new Message.HistoryBatch("journal of " + name, List.of()));
        }
        return false;
    }

    private CabinetSnapshot snapshot(CabinetName cabinet, Optional<FindingCode> code, long nanos) {
        Reading.Good reading = new Reading.Good(SET_POINT, nanos);
        return new CabinetSnapshot(
                cabinet,
                nanos / EVERY_NANOS,
                new Moment(boot, nanos, SystemClock.wall().now(), true),
                List.of(
                        new ProbeReading(new ProbeName("top"), ProbePlace.TOP, reading),
                        new ProbeReading(new ProbeName("bottom"), ProbePlace.BOTTOM, reading)),
                Optional.of(SET_POINT),
                SET_POINT,
                SET_POINT,
                LIMITS,
                Duty.ofFraction(0.3),
                true,
                Optional.of(true),
                Optional.of(true),
                GuardState.ALLOWING,
                code.stream()
                        .map(
                                there ->
                                        new Finding(
                                                there,
                                                Optional.empty(),
                                                nanos,
                                                "invented by a test",
                                                "",
                                                "Look."))
                        .toList(),
                false);
    }

    @Override
    public void close() {
        listener.close();
    }
}
