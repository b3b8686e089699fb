package io.evenwarm.agent.driver;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.port.Sample;
import io.evenwarm.message.Reading.Doubt;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicLong;
import java.util.concurrent.locks.LockSupport;
import org.junit.jupiter.api.Test;

final class BusReaderTest {

    private static final long SECOND = TimeUnit.SECONDS.toNanos(1);

    private final AtomicLong now = new AtomicLong(5 * SECOND);
    private final List<String> order = new ArrayList<>();

    private BusReader.Sensor source(String name, double value) {
        return new BusReader.Sensor(
                name,
                at -> {
                    order.add(name);
                    return new Sample.Measured(value, Sample.Unit.CELSIUS, at);
                });
    }

    @Test
    void beforeTheFirstReadAProbeSaysNotYet() {
        try (BusReader reader = new BusReader("w1", List.of(source("a", 1)), SECOND, now::get)) {
            assertEquals(new Sample.NotYet(5 * SECOND), reader.probe(0).newest());
        }
    }

    @Test
    void probesAreReadInTurnAndTheNextRoundWaitsForItsTime() {
        try (BusReader reader =
                new BusReader(
                        "w1", List.of(source("a", 30.5), source("b", 31.5)), SECOND, now::get)) {
            assertEquals(0, reader.step(10 * SECOND));
            assertEquals(0, reader.step(10 * SECOND + 1));
            assertEquals(SECOND - 2, reader.step(10 * SECOND + 2));
            assertEquals(List.of("a", "b"), order);
            assertEquals(
                    new Sample.Measured(31.5, Sample.Unit.CELSIUS, 10 * SECOND + 1),
                    reader.probe(1).newest());

            assertEquals(0, reader.step(11 * SECOND));
            assertEquals(List.of("a", "b", "a"), order);
        }
    }

    @Test
    void aRoundThatTookLongerThanItsTimeIsFollowedByTheNextAtOnce() {
        try (BusReader reader =
                new BusReader("w1", List.of(source("a", 1), source("b", 2)), SECOND, now::get)) {
            reader.step(0);
            reader.step(3 * SECOND);
            assertEquals(0, reader.step(4 * SECOND));
            assertEquals(List.of("a", "b", "a"), order);
        }
    }

    @Test
    void aDriverThatThrowsCostsOnlyItsOwnProbe() {
        SampleSource broken =
                at -> {
                    throw new IllegalStateException("bug");
                };
        try (BusReader reader =
                new BusReader(
                        "w1",
                        List.of(new BusReader.Sensor("broken", broken), source("b", 2)),
                        SECOND,
                        now::get)) {
            reader.step(0);
            reader.step(0);
            Sample.Failed failed = assertInstanceOf(Sample.Failed.class, reader.probe(0).newest());
            assertEquals(Doubt.DRIVER, failed.why());
            assertInstanceOf(Sample.Measured.class, reader.probe(1).newest());
        }
    }

    @Test
    void aHangingReadLeavesTheNewestSampleAtHandAndDoesNotHoldUpTheEnd() throws Exception {
        CountDownLatch hanging = new CountDownLatch(1);
        CountDownLatch free = new CountDownLatch(1);
        AtomicLong reads = new AtomicLong();
        SampleSource source =
                at -> {
                    if (reads.incrementAndGet() == 2) {
                        hanging.countDown();
                        awaitUninterruptibly(free);
                    }
                    return new Sample.Measured(31.5, Sample.Unit.CELSIUS, at);
                };
        BusReader reader =
                new BusReader(
                        "w1",
                        List.of(new BusReader.Sensor("a", source)),
                        1,
                        () -> now.addAndGet(10));
        reader.start();
        assertTrue(hanging.await(5, TimeUnit.SECONDS));

        Sample.Measured newest = assertInstanceOf(Sample.Measured.class, reader.probe(0).newest());
        assertEquals(31.5, newest.value());
        reader.close();
        free.countDown();
    }

    /** As a read in the kernel would: not to be interrupted. */
    private static void awaitUninterruptibly(CountDownLatch latch) {
        while (latch.getCount() > 0) {
            LockSupport.parkNanos(TimeUnit.MILLISECONDS.toNanos(1));
        }
    }
}
