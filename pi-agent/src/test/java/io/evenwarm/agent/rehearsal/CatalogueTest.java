package io.evenwarm.agent.rehearsal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.plant.CabinetBuild;
import io.evenwarm.message.Finding;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.ProbeName;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.concurrent.CancellationException;
import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.Test;

final class CatalogueTest {

    private static final int SEEDS = 2000;

    @Test
    void everyDrawnCabinetIsWithinTheCataloguesRangesAndTheyAreWellSpread() {
        double wallSum = 0;
        double heaterSum = 0;
        int tachometers = 0;
        int guards = 0;
        for (long seed = 1; seed <= SEEDS; seed++) {
            Scenario.Cabinet cabinet = Catalogue.cabinet(seed);
            CabinetBuild build = cabinet.build();
            double area = CabinetBuild.mostHeatLoss(build.volumeLitres()) / 4;
            double wall = build.heatLossWattsPerKelvin() / area;
            double heater = build.heaterWatts() / (build.heatLossWattsPerKelvin() * 19.5);
            String words = "seed " + seed + ": " + cabinet;
            assertTrue(build.volumeLitres() >= 60 && build.volumeLitres() <= 900, words);
            assertTrue(wall > 0.3999 && wall < 1.4001, words);
            assertTrue(heater > 1.4999 && heater < 5.0001, words);
            assertTrue(build.noiseKelvin() >= 0 && build.noiseKelvin() <= 0.03, words);
            assertTrue(build.ambientCelsius() - build.ambientSwingKelvin() >= 11.9999, words);
            assertTrue(build.ambientCelsius() + build.ambientSwingKelvin() <= 30.0001, words);
            assertEquals(31.5, cabinet.setPointCelsius());
            assertEquals(33.5, cabinet.cutOffCelsius());
            assertEquals(34.5, cabinet.ceilingCelsius());
            assertTrue(cabinet.hasCutOffRelay());
            wallSum += wall;
            heaterSum += heater;
            tachometers += cabinet.hasFanTachometer() ? 1 : 0;
            guards += cabinet.probePositions().contains("guard") ? 1 : 0;
        }
        // Means and shares of what is drawn evenly, within four standard errors.
        assertEquals(0.9, wallSum / SEEDS, 0.026);
        assertEquals(3.25, heaterSum / SEEDS, 0.091);
        assertEquals(0.2, (double) tachometers / SEEDS, 0.036);
        assertEquals(0.3, (double) guards / SEEDS, 0.041);
    }

    @Test
    void aFaultComesAfterADayOfSoundRunningAndNothingElseChangesWithTheKind() {
        for (FaultKind kind : FaultKind.values()) {
            for (long seed = 1; seed <= 50; seed++) {
                Scenario scenario = Catalogue.scenario(kind, seed);
                Scenario.TimedFault fault = scenario.faults().get(0);
                assertEquals(kind, fault.kind());
                assertTrue(fault.atSeconds() >= 24 * 3600 && fault.atSeconds() <= 36 * 3600);
                assertTrue(scenario.durationSeconds() >= fault.atSeconds() + 12 * 3600);
                assertEquals(
                        Catalogue.cabinet(seed).probePositions(),
                        scenario.cabinet().probePositions());
            }
        }
        assertNotEquals(
                Catalogue.scenario(FaultKind.FAN_STOPPED, 1).faults(),
                Catalogue.scenario(FaultKind.FAN_STOPPED, 2).faults());
        assertEquals(
                Catalogue.scenario(FaultKind.FAN_STOPPED, 1),
                Catalogue.scenario(FaultKind.FAN_STOPPED, 1));
    }

    @Test
    void aStepOfTheRoomLeavesEggsThatAreNotHeatedBelowTheCeiling() {
        for (long seed = 1; seed <= 500; seed++) {
            Scenario scenario = Catalogue.scenario(FaultKind.AMBIENT_STEP, seed);
            CabinetBuild build = scenario.cabinet().build();
            double kelvin = FaultKind.number(scenario.faults().get(0).what()).orElseThrow();
            double warmest = build.ambientCelsius() + build.ambientSwingKelvin() + kelvin;
            assertTrue(DueFindings.restCelsius(build, warmest) <= 34.001, scenario::toString);
            assertTrue(build.ambientCelsius() - build.ambientSwingKelvin() + kelvin >= -0.001);
        }
    }

    @Test
    void theSameSeedGivesTheSameTableOnAnyNumberOfThreads() {
        List<String> tables = new ArrayList<>();
        for (int threads : new int[] {1, 3}) {
            List<CatalogueRun> runs =
                    SeededRuns.all(
                            6,
                            threads,
                            i ->
                                    Catalogue.run(
                                            i % 2 == 0
                                                    ? FaultKind.PROBE_DROPOUT
                                                    : FaultKind.HEATER_STUCK_ON,
                                            40 + i,
                                            () -> false),
                            () -> false,
                            ended -> {});
            StringBuilder text = new StringBuilder(CatalogueTable.text(CatalogueTable.rows(runs)));
            runs.forEach(run -> text.append(run.line()).append(run.verdict().traceSha256()));
            tables.add(text.toString());
        }
        assertEquals(tables.get(0), tables.get(1));
    }

    @Test
    void whatIsStoppedKeepsWhatWasDone() {
        AtomicInteger done = new AtomicInteger();
        List<Integer> results =
                SeededRuns.all(
                        100,
                        1,
                        i -> {
                            if (done.get() == 5) {
                                throw new CancellationException("stopped in the middle of a run");
                            }
                            return i;
                        },
                        () -> done.get() == 5,
                        done::set);
        assertEquals(List.of(0, 1, 2, 3, 4), results);
    }

    @Test
    void percentilesAreByNearestRankAndNeverIsInfinite() {
        double[] found = {10, 20, 30, Double.POSITIVE_INFINITY};
        assertEquals(20, CatalogueTable.percentile(found, 0.5));
        assertEquals(Double.POSITIVE_INFINITY, CatalogueTable.percentile(found, 0.95));
        assertEquals("never", Times.words(Double.POSITIVE_INFINITY));
        assertEquals("90 s", Times.words(90));
        assertEquals("4.5 min", Times.words(270));
        assertEquals("3.0 h", Times.words(10_800));
        assertEquals("28.0 d", Times.words(28 * 86_400));
    }

    @Test
    void everyPairOfTwoKindsIsThereOnceWithTheGuardsOwnFrozenProbe() {
        int members = FaultKind.values().length + 1;
        List<Pairs.Pair> pairs = Pairs.all();
        assertEquals(members * (members - 1) / 2, pairs.size());
        Pairs.Pair own =
                pairs.stream()
                        .filter(
                                pair ->
                                        pair.first().isGuardsProbe()
                                                && pair.second().kind() == FaultKind.DOOR_OPEN)
                        .findFirst()
                        .orElseThrow();
        for (long seed = 1; seed <= 20; seed++) {
            Scenario scenario = Pairs.scenario(own, seed);
            assertEquals("guard", scenario.faults().get(0).probe().orElseThrow().value());
            assertEquals(2, scenario.faults().size());
        }
        Pairs.Pair warm =
                pairs.stream()
                        .filter(pair -> pair.has(FaultKind.AMBIENT_STEP))
                        .findFirst()
                        .orElseThrow();
        for (long seed = 1; seed <= 100; seed++) {
            Scenario scenario = Pairs.scenario(warm, seed);
            CabinetBuild build = scenario.cabinet().build();
            double kelvin =
                    scenario.faults().stream()
                            .filter(fault -> fault.kind() == FaultKind.AMBIENT_STEP)
                            .map(fault -> FaultKind.number(fault.what()).orElseThrow())
                            .findFirst()
                            .orElseThrow();
            double warmest = build.ambientCelsius() + build.ambientSwingKelvin() + kelvin;
            assertTrue(warmest <= 30.0001, scenario::toString);
        }
    }

    @Test
    void theDocumentsListWhichFindingsAreDue() throws IOException {
        String document = Files.readString(Path.of("../docs/scenarios.md"));
        String table = String.join("\n", DueFindings.documentRows());
        assertTrue(document.contains(table), () -> "docs/scenarios.md should hold:\n" + table);
    }

    @Test
    void aRelayWithAShortWindowIsDueOnlyWhereItIsSwitchedMoreThanAMechanicalOneBears() {
        CatalogueRun worn = Catalogue.run(FaultKind.RELAY_CHATTER, 1, () -> false);
        assertTrue(worn.verdict().relayOperationsSinceFault() > 375, worn::line);
        assertTrue(worn.isDue() && worn.foundAfterSeconds().isPresent(), worn::line);
        CatalogueRun resting = Catalogue.run(FaultKind.RELAY_CHATTER, 379, () -> false);
        assertTrue(resting.verdict().relayOperationsSinceFault() < 20, resting::line);
        assertFalse(resting.isDue() || resting.isMissed(), resting::line);
    }

    @Test
    void aRoomThatIsToldAsTooWarmAlreadyIsNotDueAgainWhenItGetsWarmer() {
        CatalogueRun told = Catalogue.run(FaultKind.AMBIENT_STEP, 323, () -> false);
        double before = told.verdict().firstRaised(FindingCode.ROOM_TOO_WARM).orElseThrow();
        assertTrue(before < told.scenario().faults().get(0).atSeconds(), told::line);
        assertFalse(told.isDue() || told.isMissed(), told::line);
    }

    @Test
    void cabinetsThatAreNeverHeatedHaveARowOfTheirOwnWhereOnlyHeatCanShowTheFault() {
        List<CatalogueRun> runs =
                List.of(
                        Catalogue.run(FaultKind.HEATER_OPEN, 91, () -> false),
                        Catalogue.run(FaultKind.HEATER_OPEN, 92, () -> false));
        List<CatalogueTable.Row> rows = CatalogueTable.rows(runs);
        assertEquals(
                List.of("heater-open", "heater-open, never heated"),
                rows.stream().map(CatalogueTable.Row::label).toList());
        assertEquals(List.of(0, 1), rows.stream().map(CatalogueTable.Row::missed).toList());
    }

    @Test
    void whatIsFoundBeforeTheFaultIsFalseAndWhatIsFoundAfterItMustNameItsProbe() {
        Scenario scenario = Catalogue.scenario(FaultKind.PROBE_DROPOUT, 9);
        Scenario.TimedFault fault = scenario.faults().get(0);
        Judge judge = new Judge(scenario);
        ProbeName own = fault.probe().orElseThrow();
        ProbeName other = new ProbeName("another");
        List<FindingLog.Span> spans =
                List.of(
                        span(FindingCode.PROBE_LOST, own, fault.atSeconds() - 10),
                        span(FindingCode.PROBE_LOST, other, fault.atSeconds() + 10),
                        span(FindingCode.PROBE_LOST, own, fault.atSeconds() + 30));
        assertEquals(
                List.of(
                        Verdict.Bearing.UNEXPLAINED,
                        Verdict.Bearing.UNEXPLAINED,
                        Verdict.Bearing.RIGHT),
                judge.findings(spans).stream().map(Verdict.FoundFinding::bearing).toList());
        assertEquals(List.of(OptionalDouble.of(30)), judge.firstRight(spans));
        assertEquals(List.of(OptionalDouble.empty()), judge.firstRight(spans.subList(0, 2)));
    }

    private static FindingLog.Span span(FindingCode code, ProbeName probe, double atSeconds) {
        return new FindingLog.Span(
                new Finding(code, Optional.of(probe), 0, "evidence", "action", "advice"),
                atSeconds,
                OptionalDouble.empty(),
                false);
    }

    @Test
    void aTermHasAReloadingAWeekAndTwoLooksADay() {
        Scenario term = HealthyYears.scenario(3);
        long reloadings = term.everyday().stream().filter(each -> each.freshShare() > 0).count();
        assertEquals(10, reloadings);
        assertEquals(2 * 73, term.everyday().size() - reloadings);
        assertTrue(
                term.everyday().stream()
                        .filter(each -> each.freshShare() > 0)
                        .allMatch(each -> each.forSeconds() >= 600 && each.forSeconds() <= 900));
    }

    @Test
    void aVariationMovesNumbersAndKeepsTheStory() {
        Scenario told = Catalogue.scenario(FaultKind.FAN_SLOW, 5);
        Scenario varied = Variation.of(told, 77);
        assertEquals(varied, Variation.of(told, 77));
        assertNotEquals(varied.cabinet().build(), told.cabinet().build());
        assertEquals(told.cabinet().probePositions(), varied.cabinet().probePositions());
        assertEquals(FaultKind.FAN_SLOW, varied.faults().get(0).kind());
        assertNotEquals(told.faults(), varied.faults());
        assertEquals(
                told.faults().get(0).atSeconds(),
                varied.faults().get(0).atSeconds(),
                0.1001 * told.faults().get(0).atSeconds());
        assertFalse(varied.everyday().isEmpty());
    }
}
