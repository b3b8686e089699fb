package io.evenwarm.agent.guard;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.port.CabinetOutputs;
import io.evenwarm.agent.testing.FakeOutput;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.concurrent.CountDownLatch;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;

final class OutputGateTest {

    private static final long SECOND = 1_000_000_000L;

    private final FakeOutput heater = new FakeOutput("heater", true);
    private final FakeOutput cutOffRelay = new FakeOutput("cut-off relay", true);
    private final FakeOutput fan = new FakeOutput("fan", true);
    private final FakeOutput buzzer = new FakeOutput("buzzer", true);
    private final OutputGate gate =
            new OutputGate(
                    new CabinetOutputs(
                            heater,
                            Optional.of(cutOffRelay),
                            Optional.of(fan),
                            Optional.of(buzzer)));

    private void apply(boolean isWanted, long wantedAtSecond, HeatGrant grant, long second) {
        gate.apply(isWanted, wantedAtSecond * SECOND, grant, true, false, second * SECOND);
    }

    private static HeatGrant untilSecond(long second) {
        return HeatGrant.until(second * SECOND);
    }

    @Test
    void aNewGateDrivesEveryLineOff() {
        assertFalse(heater.isEnergised());
        assertFalse(cutOffRelay.isEnergised());
        assertFalse(fan.isEnergised());
        assertFalse(buzzer.isEnergised());
    }

    @Test
    void theHeaterNeedsBothAWishAndAGrant() {
        apply(true, 1, untilSecond(4), 1);
        assertTrue(heater.isEnergised());
        assertTrue(gate.isHeaterOn());
        apply(false, 2, untilSecond(5), 2);
        assertFalse(heater.isEnergised());
        assertTrue(cutOffRelay.isEnergised(), "heat is allowed, only not wanted");
        apply(true, 3, HeatGrant.NONE, 3);
        assertFalse(heater.isEnergised());
        assertFalse(cutOffRelay.isEnergised());
    }

    @Test
    void aGrantLapsesByItself() {
        HeatGrant grant = untilSecond(4);
        apply(true, 3, grant, 3);
        assertTrue(heater.isEnergised());
        apply(true, 4, grant, 4);
        assertFalse(heater.isEnergised());
        assertFalse(cutOffRelay.isEnergised());
    }

    @Test
    void aWishLapsesByItself() {
        apply(true, 1, untilSecond(100), 3);
        assertTrue(heater.isEnergised());
        apply(true, 1, untilSecond(100), 4);
        assertFalse(heater.isEnergised());
        assertTrue(cutOffRelay.isEnergised());
    }

    @Test
    void theClockMayPassItsLargestNumber() {
        long now = Long.MAX_VALUE - 1;
        HeatGrant grant = HeatGrant.until(now + 3 * SECOND);
        gate.apply(true, now, grant, true, false, now + SECOND);
        assertTrue(heater.isEnergised());
        gate.apply(true, now, grant, true, false, now + 3 * SECOND);
        assertFalse(heater.isEnergised());
    }

    @Test
    void theHeatersRelayDoesTheSwitching() {
        List<String> order = new ArrayList<>();
        heater.whenDriven(() -> order.add("heater"));
        cutOffRelay.whenDriven(() -> order.add("cut-off"));
        apply(true, 1, untilSecond(4), 1);
        apply(true, 2, HeatGrant.NONE, 2);
        assertEquals(List.of("cut-off", "heater", "heater", "cut-off"), order);
    }

    @Test
    void oneFailingLineIsReportedAndTheOthersAreDriven() {
        heater.fail(true);
        apply(true, 1, HeatGrant.NONE, 1);
        assertEquals(List.of(new LineFault(Line.HEATER, "heater can't be driven")), gate.faults());
        assertFalse(cutOffRelay.isEnergised());
        assertTrue(fan.isEnergised());
        heater.fail(false);
        apply(true, 2, HeatGrant.NONE, 2);
        assertEquals(List.of(), gate.faults());
    }

    @Test
    void aHeatLineThatCannotBeDrivenOffCountsAsOnUntilItCan() {
        apply(true, 1, untilSecond(4), 1);
        heater.fail(true);
        cutOffRelay.fail(true);
        apply(false, 2, HeatGrant.NONE, 2);
        assertTrue(gate.isHeaterOn());
        assertTrue(gate.isCutOffRelayClosed());
        gate.driveOff();
        assertTrue(gate.isHeaterOn());
        heater.fail(false);
        cutOffRelay.fail(false);
        apply(false, 3, HeatGrant.NONE, 3);
        assertFalse(gate.isHeaterOn());
        assertFalse(gate.isCutOffRelayClosed());
    }

    @Test
    void aHeaterKnownToBeOffStaysOffWhenItsLineIsLost() {
        apply(false, 1, untilSecond(4), 1);
        heater.fail(true);
        apply(false, 2, untilSecond(5), 2);
        assertFalse(gate.isHeaterOn());
        apply(true, 3, untilSecond(6), 3);
        assertTrue(gate.isHeaterOn(), "it was told to, and nobody knows whether it did");
    }

    @Test
    void aLineThatCouldNeverBeDrivenOffCountsAsOnFromTheStart() {
        FakeOutput lost = new FakeOutput("heater", true);
        lost.fail(true);
        OutputGate other =
                new OutputGate(
                        new CabinetOutputs(
                                lost, Optional.empty(), Optional.empty(), Optional.empty()));
        assertTrue(other.isHeaterOn());
    }

    @Test
    void aFanThatCannotBeSwitchedOnDoesNotCountAsRunning() {
        fan.fail(true);
        apply(true, 1, untilSecond(4), 1);
        assertFalse(gate.isFanOn());
    }

    @Test
    void aDriverThatThrowsIsALineFault() {
        fan.whenDriven(
                () -> {
                    throw new IllegalStateException("put in by the test");
                });
        apply(true, 1, untilSecond(4), 1);
        assertEquals(Line.FAN, gate.faults().get(0).line());
        assertTrue(heater.isEnergised());
    }

    @Test
    void aClosedGateEnergisesNothingAnyMore() {
        apply(true, 1, untilSecond(4), 1);
        gate.close();
        assertFalse(heater.isEnergised());
        assertTrue(heater.isClosed() && cutOffRelay.isClosed() && fan.isClosed());
        apply(true, 2, untilSecond(5), 2);
        assertFalse(heater.isEnergised());
        assertFalse(gate.isHeaterOn());
        gate.close();
    }

    /** The worst moment: control is inside the driver when the timer, or the way out, comes. */
    @Test
    @Timeout(20)
    void aLineThatIsBeingEnergisedWhileTheTimerDrivesItOffEndsUpOff() throws InterruptedException {
        whileTheHeaterIsBeingEnergised(gate::lapse);
        assertFalse(heater.isEnergised());
        assertFalse(cutOffRelay.isEnergised());
        apply(true, 9, untilSecond(12), 9);
        assertTrue(heater.isEnergised(), "the next tick counts again");
    }

    @Test
    @Timeout(20)
    void aLineThatIsBeingEnergisedOnTheWayOutEndsUpOff() throws InterruptedException {
        whileTheHeaterIsBeingEnergised(gate::close);
        assertFalse(heater.isEnergised());
        assertFalse(cutOffRelay.isEnergised());
    }

    private void whileTheHeaterIsBeingEnergised(Runnable other) throws InterruptedException {
        CountDownLatch inside = new CountDownLatch(1);
        CountDownLatch goOn = new CountDownLatch(1);
        heater.whenDriven(
                () -> {
                    if (Thread.currentThread().getName().equals("control")) {
                        inside.countDown();
                        awaitQuietly(goOn);
                    }
                });
        Thread control = new Thread(() -> apply(true, 1, untilSecond(4), 1), "control");
        control.start();
        inside.await();
        other.run();
        goOn.countDown();
        control.join();
    }

    private static void awaitQuietly(CountDownLatch latch) {
        try {
            latch.await();
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    @Test
    void humidifierAndVentAreOffOnEveryWayOut() {
        FakeOutput humidifier = new FakeOutput("humidifier", true);
        FakeOutput vent = new FakeOutput("vent", true);
        OutputGate moist =
                new OutputGate(
                        new CabinetOutputs(
                                heater,
                                Optional.of(cutOffRelay),
                                Optional.of(fan),
                                Optional.of(buzzer),
                                Optional.of(humidifier),
                                Optional.of(vent)));
        assertFalse(humidifier.isEnergised() || vent.isEnergised(), "a new gate");
        List<Runnable> waysOut = List.of(moist::driveOff, moist::lapse, moist::close);
        for (int way = 0; way < waysOut.size(); way++) {
            moist.apply(false, 0, HeatGrant.NONE, true, false, way * SECOND);
            moist.applyMoisture(true, true);
            assertTrue(humidifier.isEnergised() && vent.isEnergised());
            waysOut.get(way).run();
            assertFalse(humidifier.isEnergised() || vent.isEnergised(), "way " + way);
        }
        moist.applyMoisture(true, true);
        assertFalse(humidifier.isEnergised() || vent.isEnergised(), "closed for good");
    }

    /** The gate by itself, with grants and wishes of any age. */
    @Test
    void noOldGrantAndNoOldWishEnergisesAnything() {
        int energised = 0;
        for (long seed = 1; seed <= 300; seed++) {
            Random random = new Random(seed);
            FakeOutput seeded = new FakeOutput("heater", true);
            FakeOutput contact = new FakeOutput("cut-off relay", true);
            OutputGate fresh =
                    new OutputGate(
                            new CabinetOutputs(
                                    seeded,
                                    Optional.of(contact),
                                    Optional.empty(),
                                    Optional.empty()));
            // Anywhere, also where the clock passes its largest number.
            long now = random.nextLong();
            for (int tick = 0; tick < 50; tick++) {
                now += (long) (2 * SECOND * random.nextDouble());
                long left = (long) (6 * SECOND * (random.nextDouble() - 0.5));
                long age = (long) (6 * SECOND * random.nextDouble());
                boolean isWanted = random.nextBoolean();
                fresh.apply(isWanted, now - age, HeatGrant.until(now + left), false, false, now);
                String where = "seed " + seed + ", tick " + tick;
                assertEquals(left > 0, contact.isEnergised(), where);
                assertEquals(isWanted && left > 0 && age < 3 * SECOND, seeded.isEnergised(), where);
                energised += seeded.isEnergised() ? 1 : 0;
            }
        }
        assertTrue(energised > 300, energised + " times energised");
    }
}
