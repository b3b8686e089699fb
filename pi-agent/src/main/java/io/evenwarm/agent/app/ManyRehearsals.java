package io.evenwarm.agent.app;

import io.evenwarm.agent.rehearsal.Catalogue;
import io.evenwarm.agent.rehearsal.CatalogueRun;
import io.evenwarm.agent.rehearsal.CatalogueTable;
import io.evenwarm.agent.rehearsal.FaultKind;
import io.evenwarm.agent.rehearsal.HealthyYears;
import io.evenwarm.agent.rehearsal.Pairs;
import io.evenwarm.agent.rehearsal.PairsTable;
import io.evenwarm.agent.rehearsal.Rehearsal;
import io.evenwarm.agent.rehearsal.Scenario;
import io.evenwarm.agent.rehearsal.SeededRuns;
import io.evenwarm.agent.rehearsal.Variation;
import io.evenwarm.agent.rehearsal.Verdict;
import io.evenwarm.codec.JsonText;
import java.io.PrintWriter;
import java.util.ArrayList;
import java.util.List;
import java.util.function.BiFunction;
import java.util.function.BooleanSupplier;
import java.util.function.Consumer;
import java.util.function.Predicate;

/** Rehearsals by the thousand: on all cores, with progress, and with an orderly Ctrl-C. */
final class ManyRehearsals {

    private static final int PROGRESS_STEPS = 200;
    private static final int CATALOGUE_RUNS = 20;
    private static final int PAIR_RUNS = 20;

    /**
     * What all of them are told.
     *
     * @param runs of each kind or pair; 0: as many as usual
     * @param firstSeed of the first run of each
     * @param isDetailed also one line a run
     */
    record Order(int runs, int threads, long firstSeed, boolean isDetailed, boolean isJson) {}

    private final Order order;
    private final PrintWriter out;
    private final PrintWriter err;

    ManyRehearsals(Order order, PrintWriter out, PrintWriter err) {
        this.order = order;
        this.out = out;
        this.err = err;
    }

    /** A scenario and its varied runs. */
    record Varied(Scenario scenario, Verdict verdict) {}

    /** {@code rehearse FILE --runs N}: one variation a seed. */
    int varied(Scenario scenario, Consumer<List<Varied>> print) {
        return all(
                order.runs(),
                (i, isStopped) -> {
                    Scenario other = Variation.of(scenario, order.firstSeed() + i);
                    return new Varied(other, Rehearsal.run(other, isStopped));
                },
                done -> {
                    print.accept(done);
                    return done.stream().anyMatch(run -> run.verdict().haveEggsPassedTheCeiling());
                });
    }

    /** {@code rehearse --catalogue}. */
    int catalogue(List<FaultKind> kinds) {
        int runs = order.runs() == 0 ? CATALOGUE_RUNS : order.runs();
        int count = kinds.size() * runs;
        return all(
                count,
                (i, isStopped) ->
                        Catalogue.run(kinds.get(i / runs), order.firstSeed() + i % runs, isStopped),
                done -> {
                    print(done, done.size() == count);
                    return done.stream().anyMatch(run -> run.verdict().haveEggsPassedTheCeiling());
                });
    }

    private void print(List<CatalogueRun> done, boolean isComplete) {
        List<CatalogueTable.Row> rows = CatalogueTable.rows(done);
        if (order.isJson()) {
            out.println(JsonText.object(RehearseJson.catalogue(done, rows, isComplete)));
            return;
        }
        if (order.isDetailed()) {
            out.println(CatalogueRun.LINE_HEAD);
            done.forEach(run -> out.println(run.line()));
            out.println();
        }
        out.print(CatalogueTable.text(rows));
    }

    /**
     * {@code rehearse --pairs}.
     *
     * @param kinds none: every pair; one: each pair that holds it; more: the pairs of these
     */
    int pairs(List<FaultKind> kinds) {
        int runs = order.runs() == 0 ? PAIR_RUNS : order.runs();
        List<Pairs.Pair> pairs = Pairs.all().stream().filter(pair -> isOf(pair, kinds)).toList();
        int count = pairs.size() * runs;
        return all(
                count,
                (i, isStopped) ->
                        Pairs.run(pairs.get(i / runs), order.firstSeed() + i % runs, isStopped),
                done -> {
                    List<PairsTable.Row> rows = PairsTable.rows(done);
                    if (order.isJson()) {
                        out.println(JsonText.object(RehearseJson.pairs(done, rows)));
                    } else {
                        if (order.isDetailed()) {
                            done.forEach(run -> out.println(run.line()));
                        }
                        out.print(PairsTable.text(rows));
                    }
                    return PairsTable.aboveWithWorkingRelay(rows) > 0;
                });
    }

    private static boolean isOf(Pairs.Pair pair, List<FaultKind> kinds) {
        return switch (kinds.size()) {
            case 0 -> true;
            case 1 -> pair.has(kinds.get(0));
            default -> kinds.contains(pair.first().kind()) && kinds.contains(pair.second().kind());
        };
    }

    /** {@code rehearse --healthy-years N}. */
    int healthyYears(int years) {
        return all(
                years * HealthyYears.TERMS_A_YEAR,
                (i, isStopped) -> HealthyYears.run(order.firstSeed() + i, isStopped),
                done -> {
                    if (order.isJson()) {
                        out.println(JsonText.object(RehearseJson.healthy(done)));
                    } else {
                        if (order.isDetailed()) {
                            HealthyYears.lines(done).forEach(out::println);
                        }
                        out.print(HealthyYears.text(done));
                    }
                    return done.stream().anyMatch(Verdict::haveEggsPassedTheCeiling);
                });
    }

    /**
     * @param print prints what was done, and says whether eggs passed the ceiling
     * @return the exit code: no when they did, or when it was stopped
     */
    private <T> int all(
            int count, BiFunction<Integer, BooleanSupplier, T> run, Predicate<List<T>> print) {
        List<T> done = new ArrayList<>();
        boolean isPassed;
        try (StopRequest stop = new StopRequest()) {
            done.addAll(
                    SeededRuns.all(
                            count,
                            order.threads(),
                            i -> run.apply(i, stop::isStopped),
                            stop::isStopped,
                            ended -> tell(ended, count)));
            if (done.size() < count) {
                err.println();
                err.println("stopped after " + done.size() + " of " + count + " runs");
                err.flush();
            }
            isPassed = print.test(done);
            out.flush();
        }
        return isPassed || done.size() < count ? ExitCode.NO : ExitCode.DONE;
    }

    /** A line that is written over, often enough to see it move. */
    private void tell(int ended, int count) {
        int each = Math.max(1, count / PROGRESS_STEPS);
        if (ended % each == 0 || ended == count) {
            err.print("\r" + ended + " of " + count + " runs");
            if (ended == count) {
                err.println();
            }
            err.flush();
        }
    }
}
