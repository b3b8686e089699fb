package io.evenwarm.agent.app;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.codec.MessageCodec;
import io.evenwarm.link.Identity;
import io.evenwarm.link.KeyPin;
import io.evenwarm.link.Link;
import io.evenwarm.link.LinkException;
import io.evenwarm.link.TlsLinks;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.Message;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.atomic.AtomicLong;
import java.util.function.Consumer;

/** A monitor that takes all that an agent has, live and history, over TLS, and keeps nothing. */
final class BenchMonitor implements AutoCloseable {

    private static final Duration LOOK = Duration.ofMillis(500);
    private static final Duration CONNECT = Duration.ofSeconds(20);
    private static final long KEEP_ALIVE_NANOS = 5_000_000_000L;

    private final Link link;
    private final MonotonicClock clock;
    private final Consumer<CabinetSnapshot> live;
    private final AtomicLong lives = new AtomicLong();
    private final AtomicLong records = new AtomicLong();
    private final Thread thread;
    private volatile Optional<String> trouble = Optional.empty();
    private volatile boolean isClosed;

    private BenchMonitor(Link link, MonotonicClock clock, Consumer<CabinetSnapshot> live) {
        this.link = link;
        this.clock = clock;
        this.live = live;
        this.thread = new Thread(this::take, "bench monitor");
        thread.setDaemon(true);
    }

    /**
     * Connects and begins to take.
     *
     * @param live hears each snapshot, in this monitor's own thread
     */
    static BenchMonitor connect(
            int port,
            Identity own,
            KeyPin agent,
            MonotonicClock clock,
            Consumer<CabinetSnapshot> live)
            throws LinkException {
        Link link =
                TlsLinks.connect(
                        new InetSocketAddress(InetAddress.getLoopbackAddress(), port),
                        own,
                        Set.of(agent),
                        CONNECT);
        BenchMonitor monitor = new BenchMonitor(link, clock, live);
        monitor.thread.start();
        return monitor;
    }

    private void take() {
        try {
            link.send(
                    new Message.Hello(
                            List.of(MessageCodec.VERSION),
                            Message.Hello.Side.MONITOR,
                            "bench",
                            "evenwarm-agent bench",
                            1));
            link.send(new Message.HistoryRequest(0));
            long saidAt = clock.nanos();
            while (!isClosed) {
                Optional<Message> message = link.receive(LOOK);
                if (message.isPresent()) {
                    hear(message.get());
                }
                if (clock.nanos() - saidAt > KEEP_ALIVE_NANOS) {
                    saidAt = clock.nanos();
                    link.send(new Message.KeepAlive());
                }
            }
        } catch (LinkException e) {
            if (!isClosed) {
                trouble = Optional.of(String.valueOf(e.getMessage()));
            }
        }
    }

    private void hear(Message message) throws LinkException {
        if (message instanceof Message.Live shown) {
            lives.incrementAndGet();
            live.accept(shown.snapshot());
        } else if (message instanceof Message.HistoryBatch batch && !batch.records().isEmpty()) {
            records.addAndGet(batch.records().size());
            JournalRecord last = batch.records().get(batch.records().size() - 1);
            link.send(new Message.Acknowledge(last.sequence()));
        }
    }

    /** How many snapshots came. */
    long lives() {
        return lives.get();
    }

    /** How many journal records came. */
    long records() {
        return records.get();
    }

    /** Why it stopped; empty while it goes on. */
    Optional<String> trouble() {
        return trouble;
    }

    @Override
    public void close() {
        isClosed = true;
        try {
            link.send(new Message.Goodbye("done"));
        } catch (LinkException e) {
            // It is gone already: nobody is left to take leave of.
            link.close();
        }
        link.close();
    }
}
