package io.evenwarm.agent.loop;

import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.testing.MemoryStores;
import io.evenwarm.agent.testing.Plans;
import io.evenwarm.clock.SystemClock;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicLong;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;

final class LapseTimerTest {

    private static final long SECOND = 1_000_000_000L;

    private final TestCabinet cabinet = new TestCabinet(Plans.threeProbes(), new MemoryStores());
    private final AtomicLong real = new AtomicLong();

    @Test
    void withoutATickForTheLimitHeaterAndCutOffRelayGoOffAndTheNextTickCountsAgain() {
        LapseTimer timer = new LapseTimer(Plans.NORTH, cabinet.loop.gate(), real::get, 5 * SECOND);
        cabinet.run(30, 25);
        assertFalse(timer.step(real.addAndGet(SECOND)));
        assertTrue(cabinet.heater.isEnergised());

        assertFalse(timer.step(real.addAndGet(5 * SECOND - 1)));
        assertTrue(cabinet.heater.isEnergised());
        assertTrue(timer.step(real.addAndGet(1)));
        assertFalse(cabinet.heater.isEnergised());
        assertFalse(cabinet.cutOffRelay.isEnergised());
        assertTrue(timer.step(real.addAndGet(SECOND)), "it keeps driving them off");

        cabinet.tickAt(25);
        assertFalse(timer.step(real.addAndGet(SECOND)));
        assertTrue(cabinet.heater.isEnergised());
    }

    /** A driver that hangs in the heater's line, as a stuck kernel call would. */
    @Test
    @Timeout(20)
    void aHungControlThreadLosesItsHeatThroughTheTimersOwnThread() throws InterruptedException {
        CountDownLatch hung = new CountDownLatch(1);
        CountDownLatch off = new CountDownLatch(1);
        cabinet.run(30, 25);
        cabinet.cutOffRelay.whenDriven(
                () -> {
                    if (Thread.currentThread().getName().startsWith("lapse")) {
                        off.countDown();
                    }
                });
        cabinet.heater.whenDriven(
                () -> {
                    if (Thread.currentThread().getName().equals("hanging control")) {
                        awaitQuietly(hung);
                    }
                });
        Thread control = new Thread(() -> cabinet.tickAt(25), "hanging control");
        try (LapseTimer timer =
                new LapseTimer(
                        Plans.NORTH,
                        cabinet.loop.gate(),
                        SystemClock.monotonic(),
                        TimeUnit.MILLISECONDS.toNanos(100))) {
            timer.start();
            control.start();
            assertTrue(off.await(10, TimeUnit.SECONDS));
            // The second look comes after the first drove both lines off.
            CountDownLatch again = new CountDownLatch(1);
            cabinet.cutOffRelay.whenDriven(again::countDown);
            assertTrue(again.await(10, TimeUnit.SECONDS));
            assertFalse(cabinet.heater.isEnergised());
            assertFalse(cabinet.cutOffRelay.isEnergised());
        } finally {
            hung.countDown();
        }
        control.join();
        assertFalse(cabinet.heater.isEnergised(), "what woke up takes back what it energised");
    }

    private static void awaitQuietly(CountDownLatch latch) {
        try {
            latch.await();
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }
}
