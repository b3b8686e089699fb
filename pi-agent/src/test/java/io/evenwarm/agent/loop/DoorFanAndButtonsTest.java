package io.evenwarm.agent.loop;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.plant.CabinetBuild;
import io.evenwarm.agent.plant.PlantFault;
import io.evenwarm.agent.testing.MemoryStores;
import io.evenwarm.agent.testing.Plans;
import io.evenwarm.agent.testing.VirtualRun;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Command;
import io.evenwarm.message.CommandOutcome;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.GuardState;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;

/** What a cabinet tells beside its probes, and planned work. */
final class DoorFanAndButtonsTest {

    private final TestCabinet cabinet =
            new TestCabinet(Plans.withDoorAndTachometer(Plans.threeProbes()), new MemoryStores());

    // --- the door --------------------------------------------------------------------------

    @Test
    void aDoorIsFoundOpenAfterThreeMinutesAndShutAtOnce() {
        cabinet.run(20, 31.5);
        cabinet.isDoorShut = Optional.of(false);
        CabinetSnapshot open = cabinet.run(180, 31.5);
        assertEquals(Optional.of(true), open.doorOpen());
        assertFalse(cabinet.has(FindingCode.DOOR_OPEN));
        cabinet.run(2, 31.5);
        assertTrue(cabinet.has(FindingCode.DOOR_OPEN));
        cabinet.isDoorShut = Optional.of(true);
        assertEquals(Optional.of(false), cabinet.run(7, 31.5).doorOpen());
        assertFalse(cabinet.has(FindingCode.DOOR_OPEN));
    }

    @Test
    void twoShortLooksInsideAreNotOneLongOne() {
        cabinet.run(20, 31.5);
        for (int look = 0; look < 3; look++) {
            cabinet.isDoorShut = Optional.of(false);
            cabinet.run(120, 31.5);
            cabinet.isDoorShut = Optional.of(true);
            cabinet.run(3, 31.5);
        }
        assertFalse(cabinet.has(FindingCode.DOOR_OPEN));
    }

    @Test
    void aDoorSwitchThatCannotBeReadSaysNothing() {
        cabinet.isDoorShut = Optional.empty();
        assertEquals(Optional.empty(), cabinet.run(300, 31.5).doorOpen());
        assertFalse(cabinet.has(FindingCode.DOOR_OPEN));
    }

    // --- planned work ----------------------------------------------------------------------

    @Test
    void plannedWorkEndsByItselfAndThenTheDoorCounts() {
        cabinet.run(20, 31.5);
        List<CommandOutcome> outcomes =
                cabinet.submit(new Command.StartPlannedWork(Plans.NORTH, 10));
        cabinet.isDoorShut = Optional.of(false);
        CabinetSnapshot begun = cabinet.tickAt(31.5);
        assertInstanceOf(CommandOutcome.Done.class, outcomes.get(0));
        assertEquals(
                Optional.of(cabinet.nowNanos + 600 * TestCabinet.SECOND),
                begun.plannedWorkUntilNanos());
        cabinet.run(599, 31.5);
        assertFalse(cabinet.has(FindingCode.DOOR_OPEN));
        assertEquals(Optional.empty(), cabinet.tickAt(31.5).plannedWorkUntilNanos());
        cabinet.run(182, 31.5);
        assertTrue(cabinet.has(FindingCode.DOOR_OPEN));
    }

    @Test
    void plannedWorkEndsOnCommandAndOnlyOnce() {
        cabinet.submit(new Command.StartPlannedWork(Plans.NORTH, 30));
        assertTrue(cabinet.tickAt(31.5).plannedWorkUntilNanos().isPresent());
        List<CommandOutcome> outcomes = cabinet.submit(new Command.EndPlannedWork(Plans.NORTH));
        assertEquals(Optional.empty(), cabinet.tickAt(31.5).plannedWorkUntilNanos());
        assertInstanceOf(CommandOutcome.Done.class, outcomes.get(0));
        List<CommandOutcome> again = cabinet.submit(new Command.EndPlannedWork(Plans.NORTH));
        cabinet.tickAt(31.5);
        assertEquals(
                List.of(new CommandOutcome.Refused("Cabinet north: no planned work is under way.")),
                again);
    }

    @Test
    void plannedWorkOfMoreThanHalfAnHourIsRefused() {
        for (int minutes : new int[] {Integer.MIN_VALUE, 0, 31, Integer.MAX_VALUE}) {
            List<CommandOutcome> outcomes =
                    cabinet.submit(new Command.StartPlannedWork(Plans.NORTH, minutes));
            assertEquals(Optional.empty(), cabinet.tickAt(31.5).plannedWorkUntilNanos());
            assertInstanceOf(CommandOutcome.Refused.class, outcomes.get(0));
            assertTrue(outcomes.get(0).words().contains("1 to 30 minutes"));
        }
    }

    @Test
    void theCutOffStaysDuringPlannedWork() {
        cabinet.run(20, 31.5);
        cabinet.submit(new Command.StartPlannedWork(Plans.NORTH, 30));
        cabinet.run(5, 31.5);
        assertEquals(GuardState.TRIPPED, cabinet.run(3, 33.6).guard());
    }

    // --- the fan ---------------------------------------------------------------------------

    @Test
    void aFanThatStopsIsFoundByItsTachometerWithinHalfAMinute() {
        cabinet.run(400, 31.5);
        cabinet.fanTurns = OptionalDouble.of(0);
        CabinetSnapshot stopped = cabinet.run(12, 31.5);
        assertEquals(Optional.of(0.0), stopped.fanTurnsPerMinute());
        assertTrue(cabinet.has(FindingCode.FAN_STOPPED));
        assertEquals("0 turns a minute; usually 1500", stopped.findings().get(0).evidence());
        assertFalse(cabinet.has(FindingCode.FAN_WEAK));
        cabinet.fanTurns = OptionalDouble.of(1490);
        cabinet.run(32, 31.5);
        assertFalse(cabinet.has(FindingCode.FAN_STOPPED));
    }

    @Test
    void aFanThatDoesNotTurnFromTheStartIsFoundToo() {
        cabinet.fanTurns = OptionalDouble.of(0);
        cabinet.run(30, 31.5);
        assertTrue(cabinet.has(FindingCode.FAN_STOPPED));
    }

    @Test
    void aFanThatSlowsDownIsWeakWhateverItsSpeedWasAndOneThatWavesIsNot() {
        cabinet.fanTurns = OptionalDouble.of(2800);
        cabinet.run(400, 31.5);
        cabinet.fanTurns = OptionalDouble.of(2380);
        cabinet.run(300, 31.5);
        assertFalse(cabinet.has(FindingCode.FAN_WEAK), "85 %");
        cabinet.fanTurns = OptionalDouble.of(1680);
        cabinet.run(122, 31.5);
        assertTrue(cabinet.has(FindingCode.FAN_WEAK), "60 %");
        assertFalse(cabinet.has(FindingCode.FAN_STOPPED));
    }

    @Test
    void aTachometerThatCannotBeReadSaysNothing() {
        cabinet.run(400, 31.5);
        cabinet.fanTurns = OptionalDouble.of(Double.NaN);
        assertEquals(Optional.empty(), cabinet.run(300, 31.5).fanTurnsPerMinute());
        assertFalse(cabinet.has(FindingCode.FAN_STOPPED));
    }

    // --- the buttons -----------------------------------------------------------------------

    @Test
    void theSilenceButtonSilencesOnceAPress() {
        cabinet.run(20, 31.5);
        cabinet.run(5, 34);
        cabinet.isSilencePressed = Optional.of(true);
        assertTrue(cabinet.tickAt(34).silenced());
        // Held or stuck, it does not silence what is new.
        cabinet.isDoorShut = Optional.of(false);
        assertFalse(cabinet.run(182, 34).silenced());
    }

    @Test
    void theResetButtonMustBeHeldForThreeSeconds() {
        cabinet.run(20, 31.5);
        cabinet.run(5, 34);
        cabinet.run(60, 31.5);
        cabinet.isResetPressed = Optional.of(true);
        assertEquals(GuardState.TRIPPED, cabinet.run(3, 31.5).guard());
        cabinet.isResetPressed = Optional.of(false);
        assertEquals(GuardState.TRIPPED, cabinet.tickAt(31.5).guard());
        cabinet.isResetPressed = Optional.of(true);
        cabinet.run(4, 31.5);
        assertEquals(GuardState.ALLOWING, cabinet.run(10, 31.5).guard());
    }

    @Test
    void aResetButtonThatIsStuckResetsNothing() {
        cabinet.isResetPressed = Optional.of(true);
        cabinet.run(20, 31.5);
        cabinet.run(5, 34);
        assertEquals(GuardState.TRIPPED, cabinet.run(60, 31.5).guard());
    }

    // --- the simulated cabinet -------------------------------------------------------------

    @Test
    void theSimulatedCabinetTellsItsDoorAndItsFan() {
        VirtualRun run =
                new VirtualRun(
                        Plans.withDoorAndTachometer(Plans.threeProbes()),
                        CabinetBuild.ofVolume(250, 1.0, 3).withStart(31.5),
                        1,
                        List.of());
        assertEquals(Optional.of(1500.0), run.hours(0.2).fanTurnsPerMinute());
        run.cabinet().inject(new PlantFault.FanStopped());
        run.cabinet().inject(new PlantFault.DoorOpen());
        CabinetSnapshot snapshot = run.hours(0.01);
        assertEquals(Optional.of(0.0), snapshot.fanTurnsPerMinute());
        assertEquals(Optional.of(true), snapshot.doorOpen());
        assertEquals(FindingCode.FAN_STOPPED, snapshot.findings().get(0).code());
    }
}
