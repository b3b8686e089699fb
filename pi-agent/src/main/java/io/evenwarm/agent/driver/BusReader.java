package io.evenwarm.agent.driver;

import io.evenwarm.agent.port.Probe;
import io.evenwarm.agent.port.Sample;
import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.message.Reading;
import java.lang.System.Logger;
import java.lang.System.Logger.Level;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.concurrent.locks.LockSupport;

/**
 * Reads the probes of one bus in turn, at the bus's own pace, and keeps the newest sample of each.
 *
 * <p>Threads: {@link #step(long)} belongs to one thread, the reader's own once {@link #start()} was
 * called. The {@link Probe}s may be asked from any thread and answer at once, also while the bus
 * hangs: their samples then grow old.
 */
public final class BusReader implements AutoCloseable {

    private static final Logger LOG = System.getLogger(BusReader.class.getName());
    private static final long JOIN_MILLIS = 200;

    private final String bus;
    private final List<Slot> slots;
    private final RoundStart start;
    private final long roundNanos;
    private final MonotonicClock clock;
    private OptionalLong sampledAtNanos = OptionalLong.empty();
    private int next;
    private boolean begun;
    private long roundBeganNanos;
    private volatile boolean closed;
    private final Thread thread;

    /**
     * @param bus the bus's name, for the log and the thread
     * @param sensors its sensors, read in this order
     * @param roundNanos a round over all sensors begins at least this long after the one before
     * @param clock tells when a read began
     */
    public BusReader(String bus, List<Sensor> sensors, long roundNanos, MonotonicClock clock) {
        this(bus, sensors, nowNanos -> OptionalLong.empty(), roundNanos, clock);
    }

    /** As the other constructor, for a bus on which something is done once a round. */
    public BusReader(
            String bus,
            List<Sensor> sensors,
            RoundStart start,
            long roundNanos,
            MonotonicClock clock) {
        if (roundNanos <= 0) {
            throw new IllegalArgumentException("round must be above 0 ns but was " + roundNanos);
        }
        this.bus = bus;
        this.start = start;
        this.roundNanos = roundNanos;
        this.clock = clock;
        long now = clock.nanos();
        List<Slot> made = new ArrayList<>();
        sensors.forEach(sensor -> made.add(new Slot(sensor, now)));
        this.slots = List.copyOf(made);
        this.thread = new Thread(this::run, "bus " + bus);
        thread.setDaemon(true);
    }

    /** The probe of the sensor at this place in the list that was given. */
    public Probe probe(int index) {
        return slots.get(index);
    }

    /** The bus's name. */
    public String bus() {
        return bus;
    }

    /**
     * Reads the next probe in turn, when its round has begun.
     *
     * @param nowNanos monotonic time
     * @return how long to wait before the next step, 0 for none
     */
    public long step(long nowNanos) {
        if (slots.isEmpty()) {
            return roundNanos;
        }
        if (next == 0) {
            long waitNanos = begun ? roundBeganNanos + roundNanos - nowNanos : 0;
            if (waitNanos > 0) {
                return waitNanos;
            }
            begun = true;
            roundBeganNanos = nowNanos;
            sampledAtNanos = begin(nowNanos);
        }
        slots.get(next).refresh(sampledAtNanos.orElse(nowNanos));
        next = (next + 1) % slots.size();
        return 0;
    }

    private OptionalLong begin(long nowNanos) {
        try {
            return start.begin(nowNanos);
        } catch (RuntimeException e) {
            // As a bug in a driver: the sensors are read all the same.
            LOG.log(Level.WARNING, "bus " + bus, e);
            return OptionalLong.empty();
        }
    }

    /** Starts the reader's own thread. */
    public void start() {
        thread.start();
    }

    private void run() {
        while (!closed) {
            long waitNanos = step(clock.nanos());
            if (waitNanos > 0) {
                LockSupport.parkNanos(waitNanos);
            }
        }
    }

    /**
     * Ends the reader. A read that hangs in the kernel can't be ended: its thread, a daemon, is
     * then left to the end of the process.
     */
    @Override
    public void close() {
        closed = true;
        LockSupport.unpark(thread);
        try {
            thread.join(JOIN_MILLIS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
        if (thread.isAlive()) {
            LOG.log(
                    Level.INFO,
                    "bus {0}: a read still hangs {1} ms after the end was asked for",
                    bus,
                    JOIN_MILLIS);
        }
    }

    /** What is done before each round. May take as long as the bus takes, or hang with it. */
    @FunctionalInterface
    public interface RoundStart {

        /**
         * Begins a round.
         *
         * @param nowNanos monotonic time
         * @return the time at which all sensors of this round took their value, when they did it
         *     together; empty when each does it as it is read
         */
        OptionalLong begin(long nowNanos);
    }

    /**
     * A sensor of the bus.
     *
     * @param label what a person calls it, for the log
     * @param source reads it
     */
    public record Sensor(String label, SampleSource source) {}

    /** One sensor with its newest sample; written by the reader, read by anyone. */
    private static final class Slot implements Probe {
        private final Sensor sensor;
        private volatile Sample newest;
        private Optional<Reading.Doubt> toldFailure = Optional.empty();

        Slot(Sensor sensor, long nowNanos) {
            this.sensor = sensor;
            this.newest = new Sample.NotYet(nowNanos);
        }

        void refresh(long nowNanos) {
            Sample sample;
            try {
                sample = sensor.source().read(nowNanos);
            } catch (RuntimeException e) {
                // A bug in one driver must not silence the other probes of its bus.
                sample = new Sample.Failed(Reading.Doubt.DRIVER, e.toString(), nowNanos);
            }
            newest = sample;
            tell(sample);
        }

        /** Once when it fails in another way than before, and once when it is back. */
        private void tell(Sample sample) {
            if (sample instanceof Sample.Failed failed) {
                if (!toldFailure.equals(Optional.of(failed.why()))) {
                    toldFailure = Optional.of(failed.why());
                    LOG.log(Level.WARNING, "{0}: {1}", sensor.label(), failed.detail());
                }
            } else if (toldFailure.isPresent()) {
                toldFailure = Optional.empty();
                LOG.log(Level.INFO, "{0}: answers again", sensor.label());
            }
        }

        @Override
        public Sample newest() {
            return newest;
        }
    }
}
