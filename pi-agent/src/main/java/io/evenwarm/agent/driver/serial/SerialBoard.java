package io.evenwarm.agent.driver.serial;

import io.evenwarm.agent.port.Probe;
import io.evenwarm.agent.port.Sample;
import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.link.LinkException;
import io.evenwarm.link.SerialFrames;
import io.evenwarm.message.Reading.Doubt;
import java.lang.System.Logger;
import java.lang.System.Logger.Level;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.LockSupport;

/**
 * A microcontroller that sends what its probes read, as often as it likes. Listens on a thread of
 * its own, and opens the line anew when it went.
 *
 * <p>A board that falls silent leaves its samples growing old. A frame that repeats the sequence
 * number of the one before counts for nothing: something sends an old buffer again.
 */
public final class SerialBoard implements AutoCloseable {

    private static final Logger LOG = System.getLogger(SerialBoard.class.getName());
    private static final long RETRY_NANOS = TimeUnit.SECONDS.toNanos(2);
    private static final long JOIN_MILLIS = 500;
    private static final double HUNDREDTHS = 100;

    /** Octets for so long without one sound report are no probe board's. */
    private static final long GARBAGE_NANOS = TimeUnit.SECONDS.toNanos(5);

    private final String port;
    private final int baud;
    private final MonotonicClock clock;
    private final Map<BoardReport.Key, Slot> slots = new ConcurrentHashMap<>();
    private final Thread thread;
    private volatile boolean closed;
    private volatile Optional<SerialFrames> line = Optional.empty();

    /** What follows is the reading thread's own. */
    private OptionalInt lastSequence = OptionalInt.empty();

    private long lastReportNanos;
    private String told = "";

    /**
     * Opens nothing yet.
     *
     * @param port the serial line's device file
     * @param baud bits a second
     * @param clock tells when a report came
     */
    public SerialBoard(String port, int baud, MonotonicClock clock) {
        this.port = port;
        this.baud = baud;
        this.clock = clock;
        this.thread = new Thread(this::run, "bus " + port);
        thread.setDaemon(true);
    }

    /** One of the board's values; asked for before {@link #start()}. */
    public Probe probe(int channel, Sample.Unit unit) {
        return slots.computeIfAbsent(
                new BoardReport.Key(channel, unit), absent -> new Slot(clock.nanos()));
    }

    /** Begins to listen. */
    public void start() {
        thread.start();
    }

    private void run() {
        while (!closed) {
            try (SerialFrames frames = SerialFrames.open(port, baud)) {
                line = Optional.of(frames);
                lastReportNanos = clock.nanos();
                lastSequence = OptionalInt.empty();
                while (!closed) {
                    frames.read(this::take);
                    if (clock.nanos() - lastReportNanos > GARBAGE_NANOS) {
                        failAll(
                                Doubt.GARBLED,
                                port
                                        + " sends, but no sound report of a probe board ("
                                        + frames.faults().total()
                                        + " damaged frames): is the baud rate right?");
                    }
                }
            } catch (LinkException e) {
                failAll(Doubt.NOT_THERE, String.valueOf(e.getMessage()));
            } catch (RuntimeException | LinkageError e) {
                failAll(Doubt.DRIVER, port + ": " + e);
            } finally {
                line = Optional.empty();
            }
            if (!closed) {
                LockSupport.parkNanos(RETRY_NANOS);
            }
        }
    }

    /** Takes one payload. Package-private for tests. */
    void take(byte[] payload) {
        BoardReport report;
        try {
            report = BoardReport.parse(payload);
        } catch (BoardReport.NotUnderstoodException e) {
            tell(port + ": a sound frame " + e.getMessage());
            return;
        }
        if (lastSequence.equals(OptionalInt.of(report.sequence()))) {
            return;
        }
        long now = clock.nanos();
        lastSequence = OptionalInt.of(report.sequence());
        lastReportNanos = now;
        boolean allMeasured = true;
        for (Map.Entry<BoardReport.Key, Slot> slot : slots.entrySet()) {
            Sample sample = sample(slot.getKey(), report, now);
            slot.getValue().newest = sample;
            if (sample instanceof Sample.Failed failed) {
                allMeasured = false;
                tell(failed.detail());
            }
        }
        if (allMeasured && !told.isEmpty()) {
            told = "";
            LOG.log(Level.INFO, "{0}: all its probes answer again", port);
        }
    }

    private Sample sample(BoardReport.Key key, BoardReport report, long now) {
        Integer value = report.values().get(key);
        String probe = port + ": probe " + key.channel();
        if (value == null) {
            return new Sample.Failed(
                    Doubt.NOT_THERE, probe + " is not in the board's reports", now);
        }
        return switch (value) {
            case BoardReport.MISSING ->
                    new Sample.Failed(Doubt.NOT_THERE, probe + " is missing, says the board", now);
            case BoardReport.WRONG_CHECKSUM ->
                    new Sample.Failed(
                            Doubt.CHECKSUM, probe + " has a wrong checksum, says the board", now);
            case BoardReport.FAILED ->
                    new Sample.Failed(Doubt.DRIVER, probe + " can't be read, says the board", now);
            default -> new Sample.Measured(value / HUNDREDTHS, key.unit(), now);
        };
    }

    private void failAll(Doubt why, String detail) {
        if (closed) {
            return;
        }
        long now = clock.nanos();
        slots.values().forEach(slot -> slot.newest = new Sample.Failed(why, detail, now));
        tell(detail);
    }

    /** Once, until something else is wrong. */
    private void tell(String words) {
        if (!told.equals(words)) {
            told = words;
            LOG.log(Level.WARNING, "{0}", words);
        }
    }

    /** Ends the listening. */
    @Override
    public void close() {
        closed = true;
        line.ifPresent(SerialFrames::close);
        LockSupport.unpark(thread);
        try {
            thread.join(JOIN_MILLIS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    private static final class Slot implements Probe {
        private volatile Sample newest;

        Slot(long nowNanos) {
            this.newest = new Sample.NotYet(nowNanos);
        }

        @Override
        public Sample newest() {
            return newest;
        }
    }
}
