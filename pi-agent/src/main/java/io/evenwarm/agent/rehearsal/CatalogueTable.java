package io.evenwarm.agent.rehearsal;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.function.Predicate;

/** The catalogue's runs, kind by kind; some kinds in parts, where more than one bar holds. */
public final class CatalogueTable {

    private static final String NEVER_HEATED = ", never heated";

    /** Below it a cabinet is heated so little that a fan is missed late. */
    static final double LOW_DUTY = 0.1;

    /**
     * One row.
     *
     * @param label kind, and which part of its runs
     * @param runs how many
     * @param aboveCeiling in how many eggs were above the ceiling
     * @param peakEggCelsius warmest eggs of all
     * @param lowestEggCelsius coldest eggs of all
     * @param due in how many a right finding had to come
     * @param medianSeconds to the right finding, of those; infinite: never
     * @param percentile95Seconds the same, 95th percentile
     * @param missed in how many of them it never came
     * @param others findings that nothing explains
     * @param trips runs in which the cut-off latched
     * @param lowestEggOfTripsCelsius coldest eggs of those; NaN without any
     * @param falseTrips runs in which the cut-off latched although nothing was that hot
     * @param lowestEggOfFalseTripsCelsius coldest eggs of those; NaN without any
     * @param foundBeforeTrip in how many of the due it was found before the cut-off tripped
     */
    public record Row(
            String label,
            int runs,
            int aboveCeiling,
            double peakEggCelsius,
            double lowestEggCelsius,
            int due,
            double medianSeconds,
            double percentile95Seconds,
            int missed,
            int others,
            int trips,
            double lowestEggOfTripsCelsius,
            int falseTrips,
            double lowestEggOfFalseTripsCelsius,
            int foundBeforeTrip) {}

    private record Part(FaultKind kind, String label, Predicate<CatalogueRun> holds) {}

    private CatalogueTable() {}

    /** The rows of these runs, kinds in their order; a part without runs has none. */
    public static List<Row> rows(List<CatalogueRun> runs) {
        List<Row> rows = new ArrayList<>();
        for (Part part : parts()) {
            List<CatalogueRun> of =
                    runs.stream()
                            .filter(run -> run.kind() == part.kind() && part.holds().test(run))
                            .toList();
            if (!of.isEmpty()) {
                rows.add(row(part.label(), of));
            }
        }
        return rows;
    }

    private static List<Part> parts() {
        List<Part> parts = new ArrayList<>();
        for (FaultKind kind : FaultKind.values()) {
            parts.addAll(parts(kind));
        }
        return parts;
    }

    private static List<Part> parts(FaultKind kind) {
        String word = kind.word();
        return switch (kind) {
            case HEATER_OPEN, HEATER_WEAK, CUT_OFF_RELAY_STUCK, MAINS_CUT ->
                    List.of(
                            new Part(kind, word, run -> !run.isNeverHeated()),
                            new Part(kind, word + NEVER_HEATED, CatalogueRun::isNeverHeated));
            case HEATER_STUCK_ON ->
                    List.of(
                            new Part(kind, word + ", room 12 °C", CatalogueTable::isColdRoom),
                            new Part(kind, word + ", other rooms", run -> !isColdRoom(run)));
            case FAN_STOPPED, FAN_SLOW -> fanParts(kind);
            case DOOR_OPEN ->
                    List.of(
                            new Part(kind, word + ", switch", CatalogueTable::hasDoorSwitch),
                            new Part(kind, word + ", no switch", run -> !hasDoorSwitch(run)));
            case PROBE_FROZEN, PROBE_DRIFT ->
                    List.of(
                            new Part(kind, word + ", in the air", run -> !isTub(run)),
                            new Part(kind, word + ", in a tub", CatalogueTable::isTub));
            default -> List.of(new Part(kind, word, run -> true));
        };
    }

    private static List<Part> fanParts(FaultKind kind) {
        Predicate<CatalogueRun> hasTachometer = CatalogueTable::hasTachometer;
        Predicate<CatalogueRun> isNeverHeated = CatalogueRun::isNeverHeated;
        Predicate<CatalogueRun> isLowDuty = CatalogueTable::isLowDuty;
        Predicate<CatalogueRun> fromLayers = hasTachometer.negate();
        Predicate<CatalogueRun> heated = fromLayers.and(isNeverHeated.negate());
        return List.of(
                new Part(kind, kind.word() + ", tachometer", hasTachometer),
                new Part(kind, kind.word() + ", duty ≥ 10 %", heated.and(isLowDuty.negate())),
                new Part(kind, kind.word() + ", duty < 10 %", heated.and(isLowDuty)),
                new Part(kind, kind.word() + NEVER_HEATED, fromLayers.and(isNeverHeated)));
    }

    private static boolean isColdRoom(CatalogueRun run) {
        return run.scenario().cabinet().build().ambientCelsius() == Catalogue.COLDEST_ROOM;
    }

    private static boolean hasTachometer(CatalogueRun run) {
        return run.scenario().cabinet().hasFanTachometer();
    }

    private static boolean hasDoorSwitch(CatalogueRun run) {
        return run.scenario().cabinet().hasDoorSwitch();
    }

    private static boolean isLowDuty(CatalogueRun run) {
        return run.verdict().dutyBeforeFault().orElse(0) < LOW_DUTY;
    }

    private static boolean isTub(CatalogueRun run) {
        return run.probe().stream().anyMatch(probe -> probe.value().equals("tub"));
    }

    private static Row row(String label, List<CatalogueRun> runs) {
        List<CatalogueRun> due = runs.stream().filter(CatalogueRun::isDue).toList();
        double[] found =
                due.stream()
                        .mapToDouble(
                                run -> run.foundAfterSeconds().orElse(Double.POSITIVE_INFINITY))
                        .sorted()
                        .toArray();
        return new Row(
                label,
                runs.size(),
                count(runs, run -> run.verdict().haveEggsPassedTheCeiling()),
                runs.stream().mapToDouble(run -> run.verdict().peakEggCelsius()).max().orElse(0),
                runs.stream().mapToDouble(run -> run.verdict().lowestEggCelsius()).min().orElse(0),
                due.size(),
                percentile(found, 0.5),
                percentile(found, 0.95),
                count(due, CatalogueRun::isMissed),
                runs.stream().mapToInt(run -> run.others().size()).sum(),
                count(runs, CatalogueRun::hasTrip),
                lowestEgg(runs, CatalogueRun::hasTrip),
                count(runs, CatalogueRun::hasFalseTrip),
                lowestEgg(runs, CatalogueRun::hasFalseTrip),
                count(due, CatalogueRun::isFoundBeforeTrip));
    }

    private static double lowestEgg(List<CatalogueRun> runs, Predicate<CatalogueRun> which) {
        return runs.stream()
                .filter(which)
                .mapToDouble(run -> run.verdict().lowestEggCelsius())
                .min()
                .orElse(Double.NaN);
    }

    private static int count(List<CatalogueRun> runs, Predicate<CatalogueRun> which) {
        return (int) runs.stream().filter(which).count();
    }

    /** By nearest rank; NaN of nothing. */
    static double percentile(double[] sorted, double share) {
        return sorted.length == 0
                ? Double.NaN
                : sorted[(int) Math.max(0, Math.ceil(share * sorted.length) - 1)];
    }

    /** The rows as text. */
    public static String text(List<Row> rows) {
        StringBuilder text = new StringBuilder();
        text.append(
                String.format(
                        Locale.ROOT,
                        "%-34s %5s %8s %8s %8s %5s %9s %9s %6s %6s %6s %8s %6s %8s %7s%n",
                        "kind",
                        "runs",
                        "> ceil.",
                        "egg max",
                        "egg min",
                        "due",
                        "median",
                        "95 %",
                        "missed",
                        "others",
                        "trips",
                        "egg min",
                        "f.trip",
                        "egg min",
                        "b.trip"));
        for (Row row : rows) {
            text.append(
                    String.format(
                            Locale.ROOT,
                            "%-34s %5d %8d %8.2f %8.2f %5d %9s %9s %6d %6d %6d %8s %6d %8s %7s%n",
                            row.label(),
                            row.runs(),
                            row.aboveCeiling(),
                            row.peakEggCelsius(),
                            row.lowestEggCelsius(),
                            row.due(),
                            time(row.medianSeconds()),
                            time(row.percentile95Seconds()),
                            row.missed(),
                            row.others(),
                            row.trips(),
                            celsius(row.lowestEggOfTripsCelsius()),
                            row.falseTrips(),
                            celsius(row.lowestEggOfFalseTripsCelsius()),
                            row.due() == 0
                                    ? "-"
                                    : String.format(
                                            Locale.ROOT,
                                            "%.0f %%",
                                            100.0 * row.foundBeforeTrip() / row.due())));
        }
        text.append(LEGEND);
        return text.toString();
    }

    private static String celsius(double value) {
        return Double.isNaN(value) ? "-" : String.format(Locale.ROOT, "%.2f", value);
    }

    private static String time(double seconds) {
        return Double.isNaN(seconds) ? "-" : Times.words(seconds);
    }

    private static final String LEGEND =
            String.join(
                    System.lineSeparator(),
                    "> ceil.: runs with eggs above the ceiling. due: runs in which a right finding"
                            + " must come; median and 95 %: how long after",
                    "the fault it came in those. others: findings that nothing explains. trips:"
                            + " runs in which the cut-off latched, and the coldest",
                    "eggs of those; f.trip: those in which nothing was that hot. b.trip: found"
                            + " before the cut-off tripped. never heated:",
                    "the room and the fan hold them even in the coldest hour, so that their heater"
                            + " shows nothing. Temperatures in °C.",
                    "");
}
