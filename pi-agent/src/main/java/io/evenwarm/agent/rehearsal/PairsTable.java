package io.evenwarm.agent.rehearsal;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;

/** What came of pairs of faults. */
public final class PairsTable {

    private static final int SHOWN = 10;

    /**
     * One pair's runs.
     *
     * @param above in how many eggs passed the ceiling
     * @param fastestSeconds from the second fault to that, in the fastest; infinite: never
     * @param medianSeconds the same, median of those in which they did
     * @param worstSeed of the run with the warmest eggs
     */
    public record Row(
            Pairs.Pair pair,
            int runs,
            int above,
            double fastestSeconds,
            double medianSeconds,
            double peakEggCelsius,
            double lowestEggCelsius,
            long worstSeed) {}

    private PairsTable() {}

    /** One row a pair, in the order of the runs. */
    public static List<Row> rows(List<Pairs.Run> runs) {
        Map<Pairs.Pair, List<Pairs.Run>> byPair = new LinkedHashMap<>();
        for (Pairs.Run run : runs) {
            byPair.computeIfAbsent(run.pair(), pair -> new ArrayList<>()).add(run);
        }
        List<Row> rows = new ArrayList<>();
        byPair.forEach((pair, of) -> rows.add(row(pair, of)));
        return rows;
    }

    private static Row row(Pairs.Pair pair, List<Pairs.Run> runs) {
        double[] after =
                runs.stream()
                        .flatMapToDouble(run -> run.ceilingAfterSeconds().stream())
                        .sorted()
                        .toArray();
        Pairs.Run worst =
                runs.stream()
                        .max(Comparator.comparingDouble(run -> run.verdict().peakEggCelsius()))
                        .orElseThrow();
        return new Row(
                pair,
                runs.size(),
                after.length,
                after.length == 0 ? Double.POSITIVE_INFINITY : after[0],
                after.length == 0
                        ? Double.POSITIVE_INFINITY
                        : CatalogueTable.percentile(after, 0.5),
                worst.verdict().peakEggCelsius(),
                runs.stream().mapToDouble(run -> run.verdict().lowestEggCelsius()).min().orElse(0),
                worst.scenario().seed());
    }

    /** Runs in which eggs passed the ceiling although the cut-off relay worked. */
    public static int aboveWithWorkingRelay(List<Row> rows) {
        return rows.stream().filter(row -> !isStuck(row)).mapToInt(Row::above).sum();
    }

    private static boolean isStuck(Row row) {
        return row.pair().has(FaultKind.CUT_OFF_RELAY_STUCK);
    }

    /** The rows as text: all that passed the ceiling, the extremes, and the stuck relay's. */
    public static String text(List<Row> rows) {
        List<Row> working = rows.stream().filter(row -> !isStuck(row)).toList();
        StringBuilder text = new StringBuilder();
        text.append(
                String.format(
                        Locale.ROOT,
                        "Cut-off relay working: %d pairs, %d runs, eggs above the ceiling in %d%n",
                        working.size(),
                        working.stream().mapToInt(Row::runs).sum(),
                        aboveWithWorkingRelay(rows)));
        List<Row> hot =
                working.stream()
                        .sorted(Comparator.comparingDouble(Row::peakEggCelsius).reversed())
                        .filter(row -> row.above() > 0)
                        .toList();
        if (!hot.isEmpty()) {
            text.append("Pairs with eggs above the ceiling:\n").append(head());
            hot.forEach(row -> text.append(line(row)));
        }
        text.append("Warmest eggs:\n").append(head());
        working.stream()
                .sorted(Comparator.comparingDouble(Row::peakEggCelsius).reversed())
                .limit(SHOWN)
                .forEach(row -> text.append(line(row)));
        text.append("Coldest eggs:\n").append(head());
        working.stream()
                .sorted(Comparator.comparingDouble(Row::lowestEggCelsius))
                .limit(SHOWN)
                .forEach(row -> text.append(line(row)));
        text.append("Cut-off relay stuck closed: what only the independent thermal cut-out stops\n")
                .append(head());
        rows.stream().filter(PairsTable::isStuck).forEach(row -> text.append(line(row)));
        return text.toString();
    }

    private static String head() {
        return String.format(
                Locale.ROOT,
                "  %-46s %5s %8s %9s %9s %8s %8s %6s%n",
                "pair",
                "runs",
                "> ceil.",
                "fastest",
                "median",
                "egg max",
                "egg min",
                "seed");
    }

    private static String line(Row row) {
        return String.format(
                Locale.ROOT,
                "  %-46s %5d %8d %9s %9s %8.2f %8.2f %6d%n",
                row.pair().words(),
                row.runs(),
                row.above(),
                Times.words(row.fastestSeconds()),
                Times.words(row.medianSeconds()),
                row.peakEggCelsius(),
                row.lowestEggCelsius(),
                row.worstSeed());
    }
}
