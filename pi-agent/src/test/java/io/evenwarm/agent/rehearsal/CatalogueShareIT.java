package io.evenwarm.agent.rehearsal;

import static org.junit.jupiter.api.Assertions.assertAll;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.logging.Level;
import java.util.logging.Logger;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.function.Executable;

/**
 * The share of rows guard-1, guard-3 and guard-4 of docs/evidence.md that every change must pass;
 * the whole of them is {@code rehearse --catalogue}, {@code --healthy-years} and {@code --pairs}.
 */
@Tag("long")
final class CatalogueShareIT {

    private static final Logger OURS = Logger.getLogger("io.evenwarm");
    private static final int RUNS = 1;

    /** Of the pairs each so many-th is run. */
    private static final int EACH_PAIR = 9;

    @BeforeEach
    void quiet() {
        OURS.setLevel(Level.OFF);
    }

    @AfterEach
    void loud() {
        OURS.setLevel(Level.INFO);
    }

    @Test
    void noSingleFaultTakesEggsAboveTheCeilingWithAWorkingCutOffRelay() {
        List<FaultKind> kinds = Arrays.asList(FaultKind.values());
        List<CatalogueRun> runs =
                SeededRuns.all(
                        kinds.size() * RUNS,
                        Runtime.getRuntime().availableProcessors(),
                        i -> Catalogue.run(kinds.get(i / RUNS), 101 + i % RUNS, () -> false),
                        () -> false,
                        ended -> {});
        System.out.print(CatalogueTable.text(CatalogueTable.rows(runs)));
        List<Executable> bounds = new ArrayList<>();
        for (CatalogueRun run : runs) {
            bounds.add(() -> assertTrue(!run.verdict().haveEggsPassedTheCeiling(), run::line));
        }
        bounds.add(() -> assertEquals(kinds.size() * RUNS, runs.size()));
        assertAll(bounds);
    }

    @Test
    void noPairOfFaultsTakesEggsAboveTheCeilingWithAWorkingCutOffRelay() {
        List<Pairs.Pair> pairs = Pairs.all();
        List<Pairs.Pair> share = new ArrayList<>();
        for (int i = 0; i < pairs.size(); i += EACH_PAIR) {
            share.add(pairs.get(i));
        }
        List<Pairs.Run> runs =
                SeededRuns.all(
                        share.size(),
                        Runtime.getRuntime().availableProcessors(),
                        i -> Pairs.run(share.get(i), 501 + i, () -> false),
                        () -> false,
                        ended -> {});
        List<PairsTable.Row> rows = PairsTable.rows(runs);
        System.out.print(PairsTable.text(rows));
        assertEquals(share.size(), runs.size());
        assertEquals(0, PairsTable.aboveWithWorkingRelay(rows));
    }

    @Test
    void aSoundTermKeepsTheEggsBetweenTheLimits() {
        Verdict verdict = HealthyYears.run(1, () -> false);
        System.out.print(HealthyYears.text(List.of(verdict)));
        assertTrue(verdict.peakEggCelsius() < 33.5, verdict::toString);
        assertTrue(!verdict.haveEggsPassedTheCeiling());
    }
}
