package io.evenwarm.agent.rehearsal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.plant.CabinetBuild;
import io.evenwarm.agent.plant.PlantFault;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.Reading;
import io.evenwarm.quantity.Temperature;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;

final class RehearsalTest {

    private static final double HOUR = 3600;
    private static final double CEILING = 34.5;

    private static Scenario scenario(
            long seed, double hours, boolean cutOffRelay, Scenario.TimedFault... faults) {
        return new Scenario(
                seed,
                hours * HOUR,
                new Scenario.Cabinet(
                        CabinetBuild.ofVolume(250, 1.0, 3),
                        31.5,
                        33.5,
                        CEILING,
                        cutOffRelay,
                        List.of("top", "middle", "bottom"),
                        Scenario.Start.SETTLED),
                List.of(faults));
    }

    private static Scenario.TimedFault from(double hours, PlantFault fault) {
        return new Scenario.TimedFault(hours * HOUR, OptionalDouble.empty(), fault);
    }

    private static boolean has(Verdict verdict, FindingCode code) {
        return verdict.findings().stream().anyMatch(found -> found.code().equals(code));
    }

    @Test
    void aHealthyDayHasNoFindingAndKeepsTheEggsAtTheSetPoint() {
        Verdict verdict = Rehearsal.run(scenario(1, 24, true));
        assertEquals(List.of(), verdict.findings());
        assertEquals(31.5, verdict.peakEggCelsius(), 0.6);
        assertEquals(31.5, verdict.lowestEggCelsius(), 0.6);
        assertFalse(verdict.haveEggsPassedTheCeiling());
        assertTrue(verdict.relayOperations() > 200 && verdict.relayOperations() <= 618);
    }

    @Test
    void oneSeedGivesOneTraceAndAnotherSeedAnother() {
        Scenario scenario = scenario(5, 3, true, from(1, new PlantFault.BusErrors(0.2)));
        assertEquals(Rehearsal.run(scenario), Rehearsal.run(scenario));
        assertNotEquals(
                Rehearsal.run(scenario).traceSha256(),
                Rehearsal.run(scenario.withSeed(6)).traceSha256());
    }

    @Test
    void aWeldedHeaterRelayIsNamedAndTheCutOffRelayKeepsTheEggsNeitherHotNorCold() {
        for (double[] volumeWallFactor :
                new double[][] {{80, 1.2, 4}, {250, 1.0, 3}, {700, 0.8, 2}}) {
            Scenario.Cabinet cabinet =
                    new Scenario.Cabinet(
                            CabinetBuild.ofVolume(
                                    volumeWallFactor[0], volumeWallFactor[1], volumeWallFactor[2]),
                            31.5,
                            33.5,
                            CEILING,
                            true,
                            List.of("top", "middle", "bottom"),
                            Scenario.Start.SETTLED);
            Verdict verdict =
                    Rehearsal.run(
                            new Scenario(
                                    3,
                                    12 * HOUR,
                                    cabinet,
                                    List.of(from(1, new PlantFault.HeaterRelayWelded()))));
            assertTrue(has(verdict, FindingCode.HEATER_STUCK_ON), () -> verdict.toString());
            assertTrue(verdict.peakEggCelsius() < 33, () -> verdict.toString());
            // A small cabinet with a strong heater trips all the same: its heater's own warmth
            // carries the air the last half kelvin.
            boolean isSlow = volumeWallFactor[0] > 100;
            assertTrue(!isSlow || verdict.lowestEggCelsius() > 30, () -> verdict.toString());
        }
    }

    @Test
    void withoutACutOffRelayAWeldedHeaterRelayTakesTheEggsPastTheCeiling() {
        Verdict verdict =
                Rehearsal.run(scenario(3, 12, false, from(1, new PlantFault.HeaterRelayWelded())));
        assertTrue(has(verdict, FindingCode.CUT_OFF_TRIPPED));
        assertTrue(verdict.haveEggsPassedTheCeiling());
        assertTrue(verdict.secondsAboveCeiling() > HOUR);
    }

    @Test
    void aFindingSpansTheFaultThatCausedIt() {
        Scenario.TimedFault dropout =
                new Scenario.TimedFault(
                        HOUR,
                        OptionalDouble.of(HOUR),
                        new PlantFault.ProbeDropout(new ProbeName("bottom")));
        Verdict verdict = Rehearsal.run(scenario(2, 3, true, dropout));
        Verdict.FoundFinding lost =
                verdict.findings().stream()
                        .filter(found -> found.code().equals(FindingCode.PROBE_LOST))
                        .findFirst()
                        .orElseThrow();
        assertEquals(Optional.of(new ProbeName("bottom")), lost.probe());
        assertEquals(HOUR, lost.raisedAtSeconds(), 60);
        assertEquals(2 * HOUR, lost.clearedAtSeconds().orElseThrow(), 120);
    }

    @Test
    void aScenarioThatCannotBeIsRefused() {
        PlantFault nowhere = new PlantFault.ProbeFrozen(new ProbeName("attic"));
        IllegalArgumentException refused =
                assertThrows(
                        IllegalArgumentException.class,
                        () -> scenario(1, 1, true, from(0, nowhere)));
        assertTrue(refused.toString().contains("top, middle, bottom"), refused.toString());
        assertThrows(IllegalArgumentException.class, () -> scenario(1, 0, true));
        assertThrows(IllegalArgumentException.class, () -> from(-1, new PlantFault.HeaterOpen()));
    }

    @Test
    void everyKindOfFaultIsFoundByItsWordAndMade() {
        for (FaultKind kind : FaultKind.values()) {
            assertEquals(Optional.of(kind), FaultKind.of(kind.word()));
            Mishap what = kind.make(keys(kind));
            assertEquals(kind, FaultKind.of(what));
            if (kind.needsProbe()) {
                assertThrows(
                        IllegalArgumentException.class,
                        () -> kind.make(FaultKeys.of(numberOf(kind))));
            }
        }
        assertEquals(Optional.empty(), FaultKind.of("gremlins"));
    }

    private static double numberOf(FaultKind kind) {
        return kind.usualNumber().orElse(0.5);
    }

    private static FaultKeys keys(FaultKind kind) {
        return new FaultKeys(
                Optional.of(new ProbeName("top")),
                Optional.of(new ProbeName("bottom")),
                numberOf(kind),
                false);
    }

    private static Scenario.TimedFault lasting(double hours, double seconds, Mishap what) {
        return new Scenario.TimedFault(hours * HOUR, OptionalDouble.of(seconds), what);
    }

    private static double raised(Verdict verdict, FindingCode code) {
        return verdict.firstRaised(code).orElseThrow(() -> new AssertionError(verdict.toString()));
    }

    @Test
    void aHungControlThreadIsDrivenOffByTheLapseTimerAndToldByTheNextTick() {
        RehearsedAgent agent = agent(new OutputTrace());
        boolean wasOn = false;
        int second = 0;
        for (; second < 2 * HOUR && !wasOn; second++) {
            wasOn =
                    agent.second().orElseThrow().heaterOn()
                            && agent.cabinet().truth().heaterWatts() > 0;
        }
        assertTrue(wasOn, "cold cabinets are heated");
        agent.setHung(true);
        int heated = 0;
        while (agent.cabinet().truth().heaterWatts() > 0) {
            assertEquals(Optional.empty(), agent.second());
            heated++;
        }
        // Four missed ticks (LapseTimer), and the second in which it looks.
        assertTrue(heated >= 4 && heated <= 5, "heated for " + heated + " s more");
        agent.setHung(false);
        assertTrue(
                agent.second().orElseThrow().findings().stream()
                        .anyMatch(found -> found.code().equals(FindingCode.LATE_TICK)));
        Verdict verdict =
                Rehearsal.run(scenario(4, 4, true, lasting(1, 600, new Mishap.ControlHang())));
        assertEquals(HOUR + 600, raised(verdict, FindingCode.LATE_TICK), 2);
        assertEquals(600, verdict.firstRightFindingAfterFaultSeconds().get(0).orElseThrow(), 2);
    }

    private static RehearsedAgent agent(OutputTrace trace) {
        Scenario.Cabinet cabinet =
                new Scenario.Cabinet(
                        CabinetBuild.ofVolume(250, 1.0, 3),
                        31.5,
                        33.5,
                        CEILING,
                        true,
                        List.of("top", "middle", "bottom"),
                        Scenario.Start.COLD);
        return new RehearsedAgent(cabinet, ScenarioPlan.of(cabinet), 1, trace);
    }

    @Test
    void aCrashedAgentLeavesItsLinesOffAndKeepsItsLatchOverTheRestart() {
        RehearsedAgent agent = agent(new OutputTrace());
        while (!agent.second().orElseThrow().heaterOn()) {
            assertTrue(agent.cabinet().truth().heaterWatts() == 0);
        }
        agent.down();
        assertEquals(Optional.empty(), agent.second());
        assertEquals(0, agent.cabinet().truth().heaterWatts());
        assertEquals(0, agent.cabinet().truth().flowShare());
        agent.up();
        int seconds = 0;
        while (!agent.second().orElseThrow().heaterOn()) {
            seconds++;
        }
        assertTrue(seconds >= 5 && seconds < 60, "heat came back after " + seconds + " s");

        Verdict latched =
                Rehearsal.run(
                        new Scenario(
                                3,
                                6 * HOUR,
                                new Scenario.Cabinet(
                                        CabinetBuild.ofVolume(80, 1.2, 4.8),
                                        31.5,
                                        32.6,
                                        CEILING,
                                        true,
                                        List.of("top", "middle", "bottom"),
                                        Scenario.Start.SETTLED),
                                List.of(
                                        from(1, new PlantFault.HeaterRelayWelded()),
                                        new Scenario.TimedFault(
                                                3 * HOUR,
                                                OptionalDouble.empty(),
                                                new Mishap.AgentCrash(20)))));
        Verdict.FoundFinding trip =
                latched.findings().stream()
                        .filter(found -> found.code().equals(FindingCode.CUT_OFF_TRIPPED))
                        .findFirst()
                        .orElseThrow();
        assertEquals(OptionalDouble.empty(), trip.clearedAtSeconds(), latched::toString);
        assertFalse(latched.haveEggsPassedTheCeiling());
    }

    @Test
    void anAgentThatGoesWithTheMainsBootsAfterItAndHeatsAgain() {
        Verdict verdict =
                Rehearsal.run(
                        scenario(6, 8, true, lasting(1, 2 * HOUR, new Mishap.MainsCut(false))));
        assertTrue(verdict.lowestEggCelsius() < 31.3, verdict::toString);
        assertFalse(verdict.haveEggsPassedTheCeiling());
        assertEquals(
                3 * HOUR + Timeline.BOOT_SECONDS, raised(verdict, FindingCode.MAINS_RETURNED), 2);
        Verdict withBattery =
                Rehearsal.run(
                        scenario(6, 8, true, lasting(1, 2 * HOUR, new Mishap.MainsCut(true))));
        assertNotEquals(verdict.traceSha256(), withBattery.traceSha256());
    }

    @Test
    void neitherALostLinkNorAFullDiskNorAJumpOfTheWallClockChangesAnOutput() {
        String sound = Rehearsal.run(scenario(8, 3, true)).traceSha256();
        for (Mishap what :
                List.of(
                        new Mishap.LinkLost(),
                        new Mishap.ClockStep(-86_400),
                        new Mishap.DiskFull())) {
            Verdict verdict = Rehearsal.run(scenario(8, 3, true, lasting(1, HOUR, what)));
            if (what instanceof Mishap.DiskFull) {
                // Its finding sounds the buzzer of no cabinet, because a journal's is the agent's.
                assertEquals(
                        0, verdict.firstRightFindingAfterFaultSeconds().get(0).orElseThrow(), 1);
            }
            assertEquals(sound, verdict.traceSha256(), what::toString);
        }
    }

    @Test
    void shortWindowsMakeTheRelayChatterUntilTheOldTuningIsBack() {
        long sound = Rehearsal.run(scenario(9, 4, true)).relayOperations();
        long chattering =
                Rehearsal.run(scenario(9, 4, true, lasting(1, HOUR, new Mishap.RelayChatter(6))))
                        .relayOperations();
        assertTrue(chattering > sound + 300, sound + " and " + chattering + " operations");
    }

    @Test
    void swappedProbesReadEachOthersPlace() {
        RehearsedAgent agent = agent(new OutputTrace());
        for (int second = 0; second < 3600; second++) {
            agent.second();
        }
        agent.cabinet()
                .inject(
                        new PlantFault.ProbesSwapped(
                                new ProbeName("top"), new ProbeName("bottom")));
        agent.cabinet().inject(new PlantFault.FanStopped());
        for (int second = 0; second < 3600; second++) {
            agent.second();
        }
        List<ProbeReading> readings = agent.second().orElseThrow().probes();
        assertTrue(
                agent.cabinet().truth().topAirCelsius()
                        > agent.cabinet().truth().bottomAirCelsius() + 1);
        assertTrue(celsius(readings.get(0)) < celsius(readings.get(2)) - 1, readings::toString);
    }

    private static double celsius(ProbeReading reading) {
        return ((Temperature) ((Reading.Good) reading.reading()).value()).celsius();
    }

    @Test
    void twoProbesAtOnePositionHaveTwoNames() {
        assertEquals(
                List.of("top", "bottom", "top 2"),
                ScenarioPlan.probeNames(List.of("top", "bottom", "top")));
    }
}
