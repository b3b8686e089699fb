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
    void aWeldedHeaterRelayTripsTheCutOffAndTheEggsStayBelowTheCeiling() {
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
            assertTrue(has(verdict, FindingCode.CUT_OFF_TRIPPED), () -> verdict.toString());
            assertTrue(verdict.peakEggCelsius() < CEILING, () -> verdict.toString());
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
        Optional<ProbeName> top = Optional.of(new ProbeName("top"));
        for (FaultKind kind : FaultKind.values()) {
            assertEquals(Optional.of(kind), FaultKind.of(kind.word()));
            PlantFault fault = kind.make(top, 0.5);
            assertEquals(kind.needsProbe(), fault instanceof PlantFault.ProbeFault, kind.word());
            if (kind.needsProbe()) {
                assertThrows(
                        IllegalArgumentException.class, () -> kind.make(Optional.empty(), 0.5));
            }
        }
        assertEquals(Optional.empty(), FaultKind.of("gremlins"));
    }

    @Test
    void twoProbesAtOnePositionHaveTwoNames() {
        assertEquals(
                List.of("top", "bottom", "top 2"),
                ScenarioPlan.probeNames(List.of("top", "bottom", "top")));
    }
}
