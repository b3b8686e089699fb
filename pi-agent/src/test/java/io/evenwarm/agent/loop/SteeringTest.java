package io.evenwarm.agent.loop;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plan.HumidityPlan;
import io.evenwarm.agent.plan.KeepingPlan;
import io.evenwarm.agent.plan.ProgrammePlan;
import io.evenwarm.agent.testing.MemoryStores;
import io.evenwarm.agent.testing.Plans;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Command;
import io.evenwarm.message.CommandOutcome;
import io.evenwarm.message.ControlReport;
import io.evenwarm.message.FindingCode;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** Tests and programmes through the whole tick. */
final class SteeringTest {

    private static final KeepingPlan EMPTY =
            new KeepingPlan(false, Optional.empty(), Optional.empty());

    private static TestCabinet cabinet(KeepingPlan keeping) {
        CabinetPlan plan = Plans.threeProbes().withKeeping(keeping);
        return new TestCabinet(plan, new MemoryStores());
    }

    /** With a programme of one step, some seconds after the start, at so many kelvins an hour. */
    private static TestCabinet stepping(int atSeconds, double kelvin, double kelvinPerHour) {
        ProgrammePlan plan =
                new ProgrammePlan(
                        List.of(new ProgrammePlan.Step(atSeconds, kelvin)),
                        ProgrammePlan.Clock.SINCE_START,
                        kelvinPerHour,
                        kelvinPerHour);
        return cabinet(new KeepingPlan(true, Optional.of(plan), Optional.empty()));
    }

    private static CommandOutcome tune(
            TestCabinet cabinet, Command.Tune.Action action, boolean withEggs) {
        List<CommandOutcome> outcomes =
                cabinet.submit(new Command.Tune(Plans.NORTH, action, withEggs));
        cabinet.silentTick();
        return outcomes.get(0);
    }

    private static Optional<ControlReport.Tuning> tuning(CabinetSnapshot snapshot) {
        return snapshot.control().flatMap(ControlReport::tuning);
    }

    @Test
    void aTestIsRefusedWithEggsUnlessAPersonInsists() {
        TestCabinet cabinet = cabinet(KeepingPlan.USUAL);
        cabinet.run(120, 31.5);
        CommandOutcome refused = tune(cabinet, Command.Tune.Action.STEP, false);
        assertTrue(refused instanceof CommandOutcome.Refused, refused.words());
        assertTrue(refused.words().contains("--with-eggs"), refused.words());
        CommandOutcome done = tune(cabinet, Command.Tune.Action.STEP, true);
        assertTrue(done instanceof CommandOutcome.Done, done.words());
        assertTrue(
                tune(cabinet, Command.Tune.Action.RELAY, true)
                        .words()
                        .contains("already under way"));
    }

    @Test
    void aTestIsRefusedWhileHeatIsNotAllowed() {
        TestCabinet cabinet = cabinet(EMPTY);
        cabinet.run(3, 34);
        CommandOutcome refused = tune(cabinet, Command.Tune.Action.STEP, false);
        assertTrue(refused instanceof CommandOutcome.Refused, refused.words());
    }

    @Test
    void aPersonStopsATestAndControlGoesOn() {
        TestCabinet cabinet = cabinet(EMPTY);
        cabinet.run(120, 31.5);
        tune(cabinet, Command.Tune.Action.STEP, false);
        CabinetSnapshot during = cabinet.run(60, 31.5);
        assertTrue(during.control().orElseThrow().activity().orElse("").startsWith("step test"));
        tune(cabinet, Command.Tune.Action.STOP, false);
        CabinetSnapshot after = cabinet.run(2, 31.5);
        assertEquals(Optional.empty(), after.control().orElseThrow().activity());
        assertEquals("a person stopped it", tuning(after).orElseThrow().failure().orElse(""));
        assertTrue(
                tune(cabinet, Command.Tune.Action.APPLY, false)
                        .words()
                        .contains("no test has led to constants"));
    }

    @Test
    void lostHeatAndAnotherSetPointEndATest() {
        TestCabinet cabinet = cabinet(EMPTY);
        cabinet.run(120, 31.5);
        tune(cabinet, Command.Tune.Action.STEP, false);
        cabinet.run(10, 31.5);
        CabinetSnapshot hot = cabinet.run(2, 33.6);
        assertTrue(tuning(hot).orElseThrow().failure().isPresent());
        assertFalse(hot.heaterOn());

        TestCabinet other = cabinet(EMPTY);
        other.run(120, 31.5);
        tune(other, Command.Tune.Action.RELAY, false);
        other.submit(
                new Command.SetSetPoint(Plans.NORTH, new io.evenwarm.quantity.Temperature(31)));
        CabinetSnapshot moved = other.run(2, 31.5);
        assertEquals("the set point was changed", tuning(moved).orElseThrow().failure().orElse(""));
    }

    @Test
    void aProgrammeMovesTheSetPointAndTheLimitsWaitForTheAir() {
        TestCabinet cabinet = stepping(60, -2, 2);
        CabinetSnapshot first = cabinet.run(30, 31.5);
        assertEquals(31.5, first.setPoint().celsius());
        CabinetSnapshot later = cabinet.run(3630, 31.4);
        assertEquals(29.5, later.setPoint().celsius(), 0.06);
        assertEquals(31.5, later.configuredSetPoint().celsius());
        assertEquals(28.5, later.limits().tooCold().celsius(), 0.06, "goes along at once");
        assertEquals(32.0, later.limits().tooWarm().celsius(), 0.06, "half a kelvin an hour");
        assertEquals(33.5, later.limits().cutOff().celsius());
        assertEquals(List.of(), later.findings(), "air that still comes down is no finding");
    }

    /** Air that is where the programme wants it is no room that heats the cabinet. */
    @Test
    void guardJudgesByTheSetPointOfTheProgramme() {
        TestCabinet cabinet = stepping(0, 0.9, 60);
        cabinet.run(3 * 3600, 32.5, 32.41, 32.4);
        assertFalse(cabinet.has(FindingCode.ROOM_TOO_WARM));
        TestCabinet still = stepping(0, 0, 60);
        still.run(3 * 3600, 32.5, 32.41, 32.4);
        assertTrue(still.has(FindingCode.ROOM_TOO_WARM), "0.9 K above where it should be");
    }

    /** With one probe left the cut-off is halfway, and stays so while a programme moves on. */
    @Test
    void aProgrammeDoesNotGiveBackTheMarginThatLostProbesTook() {
        TestCabinet cabinet = stepping(600, -2, 2);
        cabinet.run(300, 31.5);
        double none = Double.NaN;
        CabinetSnapshot lone = cabinet.run(120, 31.5, none, none);
        assertEquals(32.5, lone.limits().cutOff().celsius(), 1e-9);
        CabinetSnapshot moving = cabinet.run(1200, 31.5, none, none);
        assertTrue(moving.setPoint().celsius() < 31.2, () -> "" + moving.setPoint());
        assertTrue(moving.limits().cutOff().celsius() <= 32.5, () -> "" + moving.limits());
    }

    /** Whatever a programme says, it stays 1 K below the cut-off. */
    @Test
    void aProgrammeOnACommandedSetPointStaysBelowTheCutOff() {
        TestCabinet cabinet = stepping(0, 1, 60);
        cabinet.submit(
                new Command.SetSetPoint(Plans.NORTH, new io.evenwarm.quantity.Temperature(32.3)));
        CabinetSnapshot later = cabinet.run(600, 31.5);
        assertEquals(32.5, later.setPoint().celsius(), 1e-9);
    }

    @Test
    void humidityWithoutAGoodHygrometerDrivesNothing() {
        TestCabinet cabinet =
                cabinet(
                        new KeepingPlan(
                                true, Optional.empty(), Optional.of(new HumidityPlan(85, 6, 60))));
        CabinetSnapshot snapshot = cabinet.run(5, 31.5);
        assertEquals(Optional.of(false), snapshot.moisture().orElseThrow().humidifierOn());
        assertEquals(Optional.empty(), snapshot.moisture().orElseThrow().dewPoint());
    }
}
