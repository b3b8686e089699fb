package io.evenwarm.agent.loop;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.port.SnapshotListener;
import io.evenwarm.agent.testing.MemoryStores;
import io.evenwarm.agent.testing.Plans;
import io.evenwarm.message.BootId;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Command;
import io.evenwarm.message.CommandOutcome;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.GuardState;
import io.evenwarm.message.Moment;
import io.evenwarm.quantity.Temperature;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.junit.jupiter.api.Test;

final class CabinetLoopTest {

    private final MemoryStores stores = new MemoryStores();
    private final TestCabinet cabinet = new TestCabinet(Plans.threeProbes(), stores);

    @Test
    void linesThatAnEarlierProcessLeftOnAreOffBeforeTheFirstSampleIsRead() {
        assertFalse(cabinet.heater.isEnergised());
        assertFalse(cabinet.cutOffRelay.isEnergised());
        assertFalse(cabinet.fan.isEnergised());
        assertFalse(cabinet.buzzer.isEnergised());
    }

    @Test
    void theFirstTickKeepsEverythingOffAndHeatComesOnceReadingsAreGood() {
        CabinetSnapshot first = cabinet.tickAt(25);
        assertEquals(1, first.tick());
        assertEquals(GuardState.STARTING, first.guard());
        assertFalse(first.heaterOn());
        assertFalse(cabinet.heater.isEnergised());
        assertEquals(Optional.of(false), first.cutOffRelayClosed());
        assertEquals(Optional.of(false), first.fanOn());

        CabinetSnapshot later = cabinet.run(30, 25);
        assertEquals(GuardState.ALLOWING, later.guard());
        assertTrue(later.heaterOn());
        assertTrue(cabinet.heater.isEnergised());
        assertEquals(Optional.of(true), later.cutOffRelayClosed());
        assertEquals(Optional.of(true), later.fanOn());
    }

    @Test
    void losingEveryProbeTakesTheHeatAwayAndOnesReturnBringsItBack() {
        cabinet.run(30, 25);
        for (int i = 0; i < 11; i++) {
            cabinet.silentTick();
        }
        CabinetSnapshot blind = cabinet.silentTick();
        assertEquals(GuardState.HOLDING, blind.guard());
        assertEquals(Optional.empty(), blind.processValue());
        assertFalse(cabinet.heater.isEnergised());
        assertFalse(cabinet.cutOffRelay.isEnergised());
        assertTrue(cabinet.fan.isEnergised(), "the fan keeps the air even");
        for (int i = 0; i < 15; i++) {
            cabinet.silentTick();
        }
        assertTrue(cabinet.has(FindingCode.BLIND));

        assertEquals(GuardState.ALLOWING, cabinet.run(40, 25).guard());
        assertTrue(cabinet.heater.isEnergised());
        assertFalse(cabinet.has(FindingCode.BLIND));
    }

    @Test
    void aCommandedSetPointCountsAtOnceAndAfterARestart() {
        cabinet.run(10, 30);
        List<CommandOutcome> outcomes =
                cabinet.submit(new Command.SetSetPoint(Plans.NORTH, new Temperature(30)));
        assertTrue(outcomes.isEmpty(), "commands wait for the tick");
        CabinetSnapshot snapshot = cabinet.tickAt(30);
        assertInstanceOf(CommandOutcome.Done.class, outcomes.get(0));
        assertEquals(30, snapshot.setPoint().celsius());
        assertEquals(31.5, snapshot.configuredSetPoint().celsius());
        assertEquals(31, snapshot.limits().tooWarm().celsius(), 1e-9);
        assertEquals(33.5, snapshot.limits().cutOff().celsius());

        TestCabinet again = new TestCabinet(Plans.threeProbes(), stores);
        assertEquals(30, again.tickAt(30).setPoint().celsius());
    }

    @Test
    void aKeptSetPointThatNoLongerFitsGivesWayToTheConfiguredOne() {
        cabinet.submit(new Command.SetSetPoint(Plans.NORTH, new Temperature(32.5)));
        cabinet.tickAt(30);
        TestCabinet again =
                new TestCabinet(
                        Plans.cabinet(
                                Plans.limits(30.5, 32.5, 33, 34.5),
                                Plans.threeProbes().probes().get(0)),
                        stores);
        assertEquals(31.5, again.tickAt(30).setPoint().celsius());
    }

    @Test
    void setPointsNearTheCutOffAreRefusedWithTheReason() {
        List<CommandOutcome> outcomes =
                cabinet.submit(new Command.SetSetPoint(Plans.NORTH, new Temperature(32.51)));
        cabinet.tickAt(30);
        assertEquals(
                "Cabinet north: the set point must be 10.00 °C to 32.50 °C (1 K below the cut-off)"
                        + " but was 32.51 °C.",
                assertInstanceOf(CommandOutcome.Refused.class, outcomes.get(0)).words());
    }

    @Test
    void aTripOutlivesARestartAndWaitsForAPerson() {
        cabinet.run(10, 33);
        cabinet.tickAt(33.5, 32.5, 32);
        assertFalse(cabinet.heater.isEnergised());
        assertEquals(GuardState.TRIPPED, cabinet.tickAt(33.6, 32.5, 32).guard());
        assertEquals(GuardState.TRIPPED, cabinet.run(100, 30).guard());

        TestCabinet again = new TestCabinet(Plans.threeProbes(), stores);
        assertEquals(GuardState.TRIPPED, again.run(20, 30).guard());
        assertFalse(again.heater.isEnergised());
        assertFalse(again.cutOffRelay.isEnergised());
        assertTrue(again.has(FindingCode.CUT_OFF_TRIPPED));
        List<CommandOutcome> early = again.submit(new Command.ResetCutOff(Plans.NORTH));
        again.tickAt(30);
        assertEquals(
                "Cabinet north: the heater must be seen to obey first: 5 more minutes without"
                        + " getting warmer are needed.",
                assertInstanceOf(CommandOutcome.Refused.class, early.get(0)).words());
        again.run(300, 30);

        List<CommandOutcome> outcomes = again.submit(new Command.ResetCutOff(Plans.NORTH));
        again.tickAt(30);
        assertInstanceOf(CommandOutcome.Done.class, outcomes.get(0));
        assertEquals(GuardState.ALLOWING, again.run(20, 30).guard());
        TestCabinet third = new TestCabinet(Plans.threeProbes(), stores);
        assertEquals(GuardState.ALLOWING, third.run(20, 30).guard());
    }

    @Test
    void aResetThatCantBeSavedIsRefusedAndTheCutOffStaysTripped() {
        cabinet.run(10, 33.6);
        cabinet.run(400, 31);
        stores.diskFull(true);
        List<CommandOutcome> outcomes = cabinet.submit(new Command.ResetCutOff(Plans.NORTH));
        cabinet.tickAt(31);
        cabinet.tickAt(31);
        assertInstanceOf(CommandOutcome.Refused.class, outcomes.get(0));
        assertTrue(outcomes.get(0).words().contains("No space left"), outcomes.get(0).words());
        assertEquals(GuardState.TRIPPED, cabinet.tickAt(31).guard());
        assertTrue(cabinet.has(FindingCode.STATE_NOT_SAVED));

        stores.diskFull(false);
        cabinet.run(40, 31);
        assertFalse(cabinet.has(FindingCode.STATE_NOT_SAVED), "it is tried again");
        assertEquals(
                GuardState.TRIPPED,
                new TestCabinet(Plans.threeProbes(), stores).run(9, 31).guard());
    }

    @Test
    void aSlowDiskDelaysTheAnswerToAResetButNoTick() {
        List<Runnable> disk = new ArrayList<>();
        TestCabinet slow = new TestCabinet(Plans.threeProbes(), stores, disk::add, List.of());
        slow.run(10, 33.6);
        slow.run(400, 31);
        disk.forEach(Runnable::run);
        disk.clear();
        List<CommandOutcome> outcomes = slow.submit(new Command.ResetCutOff(Plans.NORTH));
        assertEquals(GuardState.TRIPPED, slow.run(5, 31).guard());
        assertTrue(outcomes.isEmpty());
        disk.forEach(Runnable::run);
        assertEquals(GuardState.HOLDING, slow.tickAt(31).guard());
        assertInstanceOf(CommandOutcome.Done.class, outcomes.get(0));
    }

    @Test
    void aResetIsRefusedWhenItGotHotAgainWhileTheDiskWasBusy() {
        List<Runnable> disk = new ArrayList<>();
        TestCabinet slow = new TestCabinet(Plans.threeProbes(), stores, disk::add, List.of());
        slow.run(10, 33.6);
        slow.run(400, 31);
        List<CommandOutcome> outcomes = slow.submit(new Command.ResetCutOff(Plans.NORTH));
        slow.run(5, 31);
        List.copyOf(disk).forEach(Runnable::run);
        disk.clear();
        slow.tickAt(32.5, 31, 31);
        assertInstanceOf(CommandOutcome.Refused.class, outcomes.get(0));
        disk.forEach(Runnable::run);
        assertEquals(GuardState.TRIPPED, slow.tickAt(31).guard());
        assertEquals(
                GuardState.TRIPPED,
                new TestCabinet(Plans.threeProbes(), stores).run(9, 31).guard());
    }

    @Test
    void tooManyCommandsAreRefusedInWordsByTheCallersOwnThread() {
        List<CommandOutcome> outcomes = new ArrayList<>();
        for (int i = 0; i < CommandQueue.CAPACITY + 1; i++) {
            cabinet.loop.submit(new Command.Silence(Plans.NORTH), outcomes::add);
        }
        assertEquals(1, outcomes.size());
        assertInstanceOf(CommandOutcome.Refused.class, outcomes.get(0));
        cabinet.tickAt(30);
        assertEquals(CommandQueue.CAPACITY + 1, outcomes.size());
    }

    @Test
    void commandsForAnotherCabinetAreRefused() {
        List<CommandOutcome> outcomes =
                cabinet.submit(new Command.Silence(new CabinetName("south")));
        assertInstanceOf(CommandOutcome.Refused.class, outcomes.get(0));
    }

    @Test
    void silenceLastsUntilSomethingNewIsFound() {
        cabinet.run(10, 33.6);
        cabinet.submit(new Command.Silence(Plans.NORTH));
        assertTrue(cabinet.tickAt(33.6).silenced());
        for (int i = 0; i < 8; i++) {
            cabinet.tickAt(33.6);
            assertFalse(cabinet.buzzer.isEnergised());
        }
        cabinet.run(61, 33.6);
        assertTrue(cabinet.has(FindingCode.TOO_WARM));
        assertFalse(cabinet.tickAt(33.6).silenced());
    }

    @Test
    void aListenerThatThrowsIsCountedAndChangesNothing() {
        List<CabinetSnapshot> heard = new ArrayList<>();
        SnapshotListener broken =
                snapshot -> {
                    throw new IllegalStateException("journal is dead");
                };
        TestCabinet other =
                new TestCabinet(
                        Plans.threeProbes(), stores, Runnable::run, List.of(broken, heard::add));
        CabinetSnapshot last = other.run(30, 25);
        assertEquals(30, heard.size());
        assertSame(last, heard.get(29));
        assertEquals(30, other.loop.listenerFailures());
        assertTrue(last.heaterOn());
    }

    @Test
    void anExceptionInsideTheTickIsContainedWithAFindingAndHeatComesBackByItself() {
        boolean[] isBroken = {false};
        TestCabinet other =
                new TestCabinet(
                        Plans.threeProbes(),
                        stores,
                        save -> {
                            if (isBroken[0]) {
                                throw new IllegalStateException("put in by the test");
                            }
                            save.run();
                        },
                        List.of());
        other.run(30, 25);
        assertTrue(other.heater.isEnergised());
        isBroken[0] = true;
        other.submit(new Command.SetSetPoint(Plans.NORTH, new Temperature(31)));
        CabinetSnapshot failed = other.tickAt(25);
        assertEquals(GuardState.HOLDING, failed.guard());
        assertFalse(other.heater.isEnergised());
        assertFalse(other.cutOffRelay.isEnergised());
        assertTrue(other.has(FindingCode.AGENT_FAULT));
        assertEquals(0, failed.duty().fraction());

        isBroken[0] = false;
        assertEquals(GuardState.HOLDING, other.tickAt(25).guard());
        assertTrue(other.has(FindingCode.AGENT_FAULT));
        assertEquals(GuardState.ALLOWING, other.run(20, 25).guard());
        other.run(60, 25);
        assertFalse(other.has(FindingCode.AGENT_FAULT));
    }

    @Test
    void anErrorThatEndsTheTickLeavesTheHeaterOff() {
        cabinet.run(30, 25);
        assertTrue(cabinet.heater.isEnergised());
        cabinet.fan.whenDriven(
                () -> {
                    throw new StackOverflowError("put in by the test");
                });
        assertThrows(StackOverflowError.class, () -> cabinet.tickAt(25));
        assertFalse(cabinet.heater.isEnergised());
        cabinet.fan.whenDriven(() -> {});
        assertEquals(GuardState.ALLOWING, cabinet.run(20, 25).guard());
    }

    @Test
    void aLineThatCantBeDrivenHoldsTheHeatBack() {
        cabinet.run(30, 25);
        cabinet.heater.fail(true);
        cabinet.tickAt(25);
        CabinetSnapshot next = cabinet.tickAt(25);
        assertEquals(GuardState.HOLDING, next.guard());
        assertFalse(cabinet.cutOffRelay.isEnergised(), "the relay in series opens");
        assertTrue(cabinet.has(FindingCode.OUTPUT_FAILING));
        cabinet.heater.fail(false);
        assertEquals(GuardState.ALLOWING, cabinet.run(10, 25).guard());
    }

    @Test
    void aFanThatCantBeDrivenIsReportedAndHeatGoesOn() {
        cabinet.run(30, 25);
        cabinet.fan.fail(true);
        cabinet.run(3, 25);
        assertTrue(cabinet.has(FindingCode.OUTPUT_FAILING));
        assertEquals(GuardState.ALLOWING, cabinet.tickAt(25).guard());
    }

    @Test
    void aLateTickIsReported() {
        cabinet.run(10, 25);
        cabinet.nowNanos += 4 * TestCabinet.SECOND;
        cabinet.tickAt(25);
        assertTrue(cabinet.has(FindingCode.LATE_TICK));
    }

    @Test
    void closingDrivesEverythingOffForGoodAndRefusesWhatWaits() {
        cabinet.run(30, 25);
        List<CommandOutcome> outcomes = cabinet.submit(new Command.Silence(Plans.NORTH));
        cabinet.loop.close();
        assertFalse(cabinet.heater.isEnergised());
        assertTrue(cabinet.heater.isClosed());
        assertInstanceOf(CommandOutcome.Refused.class, outcomes.get(0));
        cabinet.tickAt(25);
        assertFalse(cabinet.heater.isEnergised());
        assertInstanceOf(
                CommandOutcome.Refused.class,
                cabinet.submit(new Command.Silence(Plans.NORTH)).get(0));
    }

    @Test
    void aMomentOfAnotherBootIsABug() {
        Moment other = new Moment(new BootId(new UUID(9, 9)), 1, Instant.EPOCH, true);
        assertThrows(IllegalArgumentException.class, () -> cabinet.loop.tick(other));
    }
}
