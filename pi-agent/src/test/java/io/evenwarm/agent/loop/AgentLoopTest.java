package io.evenwarm.agent.loop;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.testing.MemoryStores;
import io.evenwarm.agent.testing.Plans;
import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.SystemClock;
import io.evenwarm.clock.WallClock;
import io.evenwarm.message.BootId;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Command;
import io.evenwarm.message.CommandOutcome;
import io.evenwarm.message.FindingCode;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicLong;
import java.util.function.LongConsumer;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;

final class AgentLoopTest {

    private static final long SECOND = 1_000_000_000L;
    private static final WallClock WALL =
            new WallClock() {
                @Override
                public Instant now() {
                    return Instant.EPOCH;
                }

                @Override
                public boolean isTrusted() {
                    return true;
                }
            };

    private final List<CabinetSnapshot> heard = new CopyOnWriteArrayList<>();
    private final TestCabinet north = cabinet(Plans.threeProbes());
    private final TestCabinet south = cabinet(named("south"));

    private TestCabinet cabinet(CabinetPlan plan) {
        return new TestCabinet(plan, new MemoryStores(), Runnable::run, List.of(heard::add));
    }

    private static CabinetPlan named(String name) {
        CabinetPlan like = Plans.threeProbes();
        return new CabinetPlan(
                new CabinetName(name),
                like.probes(),
                like.setPoint(),
                like.limits(),
                like.control(),
                like.guard(),
                true,
                true);
    }

    private AgentLoop loop(LoopClock clock, LongConsumer... beforeTick) {
        return new AgentLoop(
                List.of(north.loop, south.loop),
                new BootId(new UUID(1, 2)),
                clock,
                List.of(beforeTick));
    }

    private AgentLoop watched(BootId boot, List<String> fed, LongConsumer... beforeTick) {
        return new AgentLoop(
                List.of(north.loop, south.loop),
                boot,
                virtual(),
                List.of(beforeTick),
                () -> fed.add("after " + heard.size() + " snapshots"));
    }

    @Test
    void theWatchdogIsFedOnceEveryCabinetWasTicked() {
        List<String> fed = new ArrayList<>();
        AgentLoop loop = watched(new BootId(new UUID(1, 2)), fed, now -> warm(now, north, south));
        loop.step(SECOND);
        loop.step(2 * SECOND);
        assertEquals(List.of("after 2 snapshots", "after 4 snapshots"), fed);
        // Contained: the cabinet's lines are off and a finding tells. No reason to end the agent.
        north.heater.whenDriven(
                () -> {
                    throw new IllegalStateException("put in by the test");
                });
        loop.step(3 * SECOND);
        assertEquals(3, fed.size());
    }

    @Test
    void aTickThatWasNotCompletedFeedsNoWatchdog() {
        List<String> fed = new ArrayList<>();
        // A boot that is not the cabinets' own: what no tick is made to contain.
        watched(new BootId(new UUID(3, 4)), fed, now -> warm(now, north, south)).step(SECOND);
        assertEquals(List.of(), fed);

        AgentLoop loop = watched(new BootId(new UUID(1, 2)), fed, now -> warm(now, north, south));
        south.heater.whenDriven(
                () -> {
                    throw new AssertionError("put in by the test");
                });
        assertThrows(AssertionError.class, () -> loop.step(2 * SECOND));
        assertEquals(List.of(), fed);
    }

    private void warm(long nowNanos, TestCabinet... cabinets) {
        for (TestCabinet cabinet : cabinets) {
            cabinet.probes.forEach(probe -> probe.celsius(25, nowNanos));
        }
    }

    private static LoopClock virtual() {
        return LoopClock.real(() -> 0, WALL);
    }

    @Test
    void oneStepTicksEveryCabinet() {
        AgentLoop loop = loop(virtual(), now -> warm(now, north, south));
        for (int second = 1; second <= 30; second++) {
            loop.step(second * SECOND);
        }
        assertEquals(60, heard.size());
        assertTrue(north.heater.isEnergised());
        assertTrue(south.heater.isEnergised());
        assertEquals(30 * SECOND, heard.get(59).moment().monotonicNanos());
    }

    @Test
    void oneCabinetsFailureTurnsItsOwnHeatOffAndTheOtherGoesOn() {
        AgentLoop loop = loop(virtual(), now -> warm(now, north, south));
        for (int second = 1; second <= 30; second++) {
            loop.step(second * SECOND);
        }
        north.heater.whenDriven(
                () -> {
                    throw new IllegalStateException("put in by the test");
                });
        loop.step(31 * SECOND);
        loop.step(32 * SECOND);
        assertFalse(north.cutOffRelay.isEnergised());
        assertTrue(south.heater.isEnergised());
        CabinetSnapshot last = heard.get(heard.size() - 2);
        assertTrue(
                last.findings().stream()
                        .anyMatch(finding -> finding.code().equals(FindingCode.OUTPUT_FAILING)));
    }

    @Test
    void commandsGoToTheirCabinetAndUnknownOnesAreRefusedWithTheNames() {
        AgentLoop loop = loop(virtual(), now -> warm(now, north, south));
        List<CommandOutcome> outcomes = new ArrayList<>();
        loop.submit(new Command.Silence(new CabinetName("south")), outcomes::add);
        loop.submit(new Command.Silence(new CabinetName("east")), outcomes::add);
        assertEquals(
                "There is no cabinet \"east\" here. There are: north, south",
                assertInstanceOf(CommandOutcome.Refused.class, outcomes.get(0)).words());
        loop.step(SECOND);
        assertInstanceOf(CommandOutcome.Done.class, outcomes.get(1));
    }

    @Test
    void aClosedLoopHasEveryLineOff() {
        AgentLoop loop = loop(virtual(), now -> warm(now, north, south));
        for (int second = 1; second <= 30; second++) {
            loop.step(second * SECOND);
        }
        loop.close();
        assertFalse(north.heater.isEnergised() || south.heater.isEnergised());
        loop.close();
    }

    @Test
    @Timeout(30)
    void onAFasterClockEverySimulatedSecondHasItsTick() throws InterruptedException {
        MonotonicClock real = SystemClock.monotonic();
        long start = real.nanos();
        double speed = 2000;
        MonotonicClock fast = () -> (long) ((real.nanos() - start) * speed);
        CountDownLatch enough = new CountDownLatch(1000);
        AgentLoop loop =
                loop(
                        new LoopClock(fast, WALL, real, speed),
                        now -> {
                            warm(now, north, south);
                            enough.countDown();
                        });
        loop.start(cause -> {});
        assertTrue(enough.await(20, TimeUnit.SECONDS));
        loop.close();
        List<CabinetSnapshot> norths =
                heard.stream().filter(one -> one.cabinet().equals(Plans.NORTH)).toList();
        assertTrue(norths.size() >= 999, norths.size() + " ticks");
        for (int i = 1; i < norths.size(); i++) {
            assertEquals(
                    SECOND,
                    norths.get(i).moment().monotonicNanos()
                            - norths.get(i - 1).moment().monotonicNanos());
        }
    }

    @Test
    @Timeout(30)
    void inRealTimeAMissedTickIsLeftOut() throws InterruptedException {
        // A clock that stands still but for what the test adds: the thread sees 4.2 s at once.
        AtomicLong nanos = new AtomicLong();
        List<Long> ticks = new CopyOnWriteArrayList<>();
        AgentLoop loop = loop(LoopClock.real(nanos::get, WALL), ticks::add);
        loop.start(cause -> {});
        awaitSize(ticks, 1);
        nanos.addAndGet(4 * SECOND + SECOND / 5);
        awaitSize(ticks, 2);
        nanos.addAndGet(SECOND * 8 / 10 - 1);
        Thread.sleep(20);
        assertEquals(2, ticks.size(), "the next is due at 5 s, as always");
        nanos.addAndGet(1);
        awaitSize(ticks, 3);
        loop.close();
        assertEquals(List.of(0L, 4_200_000_000L, 5_000_000_000L), List.copyOf(ticks));
    }

    private static void awaitSize(List<Long> list, int size) throws InterruptedException {
        while (list.size() < size) {
            Thread.sleep(1);
        }
    }

    @Test
    @Timeout(30)
    void whenTheControlThreadDiesEverythingIsOffBeforeAnybodyIsTold() throws InterruptedException {
        AtomicBoolean wasHeating = new AtomicBoolean(true);
        CountDownLatch told = new CountDownLatch(1);
        MonotonicClock real = SystemClock.monotonic();
        long start = real.nanos();
        MonotonicClock fast = () -> (real.nanos() - start) * 2000;
        AgentLoop loop =
                loop(
                        new LoopClock(fast, WALL, real, 2000),
                        now -> {
                            warm(now, north, south);
                            if (north.heater.isEnergised() && south.heater.isEnergised()) {
                                throw new IllegalStateException("put in by the test");
                            }
                        });
        loop.start(
                cause -> {
                    wasHeating.set(north.heater.isEnergised() || south.heater.isEnergised());
                    told.countDown();
                });
        assertTrue(told.await(20, TimeUnit.SECONDS));
        assertFalse(wasHeating.get());
        loop.close();
    }
}
