package io.evenwarm.monitor.evenness;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.TreeSet;
import java.util.stream.Collectors;
import java.util.stream.IntStream;

/**
 * Finds the settled parts of a run in which probes were moved. Each move opens the door, so that
 * the cabinet is looked at from one move to the next: what comes before all points of such a
 * stretch have settled is left out, and so is what comes shortly before the next move, which nobody
 * writes down to the minute. Where a point ends may differ from one stretch to the next, as the
 * cabinet as a whole may drift.
 */
final class MovedSettling {

    /** DKD-R 5-7, 7.3: at least 30 readings, here at each place. */
    static final int READINGS_MIN = 30;

    /** Left out before each move: a keeper's watch. Common practice, no source. */
    private static final double BEFORE_A_MOVE_MINUTES = 10;

    /**
     * What was found.
     *
     * @param found the settled parts, oldest first
     * @param reasons why there is no verdict; then the parts say nothing
     */
    record Outcome(List<Settling.Found> found, List<Reason> reasons) {}

    /** What is the matter with a stretch, and which one it is. */
    private record Trouble(long beginMillis, long endMillis, Reason reason) {}

    private final Cells cells;
    private final Settling settling;
    private final SurveyInput input;
    private final List<SurveyPoint> points;

    MovedSettling(Cells cells, Settling settling, SurveyInput input) {
        this.cells = cells;
        this.settling = settling;
        this.input = input;
        points = input.temperatures();
    }

    Outcome find() {
        List<Settling.Found> found = new ArrayList<>();
        List<Trouble> troubles = new ArrayList<>();
        List<Long> edges = edges();
        for (int i = 0; i + 1 < edges.size(); i++) {
            boolean isLast = i + 2 == edges.size();
            look(edges.get(i), edges.get(i + 1), isLast, found, troubles);
        }
        List<Reason> reasons = new ArrayList<>();
        for (int i = 0; i < points.size(); i++) {
            reasonOf(i, found, troubles).ifPresent(reasons::add);
        }
        if (reasons.isEmpty()) {
            settling.setPointChange(found.get(0).from(), found.get(found.size() - 1).to())
                    .ifPresent(reasons::add);
        }
        return new Outcome(found, reasons.stream().distinct().toList());
    }

    /** Begin, moves and end of the run, in milliseconds. */
    private List<Long> edges() {
        TreeSet<Long> edges = new TreeSet<>();
        points.stream()
                .flatMap(point -> point.stays().stream())
                .forEach(
                        stay -> {
                            edges.add(stay.from().toEpochMilli());
                            edges.add(stay.to().toEpochMilli());
                        });
        edges.add(cells.beginMillis(0));
        edges.add(cells.beginMillis(cells.size()));
        return edges.stream()
                .filter(edge -> edge >= cells.beginMillis(0))
                .filter(edge -> edge <= cells.beginMillis(cells.size()))
                .toList();
    }

    private void look(
            long begin,
            long end,
            boolean isLast,
            List<Settling.Found> found,
            List<Trouble> troubles) {
        long first = cells.beginMillis(0);
        int from = (int) -Math.floorDiv(first - begin, cells.cellMillis());
        int to = (int) ((end - first) / cells.cellMillis());
        to -= isLast ? 0 : cells.cellsOf(BEFORE_A_MOVE_MINUTES);
        Settling.Outcome outcome = settling.find(from, Math.max(from, to));
        List<Reason> reasons = outcome.reasons();
        if (outcome.found().isPresent()) {
            Settling.Found part = outcome.found().get();
            List<Integer> there =
                    IntStream.range(0, points.size())
                            .filter(i -> isThere(i, part.from()))
                            .boxed()
                            .toList();
            reasons =
                    InputCheck.gaps(
                            cells.parts(List.of(part)).only(there),
                            there.stream().map(points::get).toList(),
                            input.wording());
            if (reasons.isEmpty()) {
                found.add(part);
            }
        }
        reasons.forEach(reason -> troubles.add(new Trouble(begin, end, reason)));
    }

    private boolean isThere(int point, int cell) {
        return points.get(point).wasThere(cells.beginMillis(cell), cells.cellMillis());
    }

    /** Why a point has no figures, where it has none. */
    private Optional<Reason> reasonOf(
            int index, List<Settling.Found> found, List<Trouble> troubles) {
        int readings =
                found.stream()
                        .filter(part -> isThere(index, part.from()))
                        .mapToInt(Settling.Found::size)
                        .sum();
        if (readings >= READINGS_MIN) {
            return Optional.empty();
        }
        SurveyPoint point = points.get(index);
        List<Trouble> its =
                troubles.stream()
                        .filter(t -> point.wasThere(t.beginMillis, t.endMillis - t.beginMillis))
                        .toList();
        if (its.isEmpty()) {
            return Optional.of(
                    new Reason(
                            Reason.Kind.TOO_SHORT,
                            point.words()
                                    + " has only "
                                    + readings
                                    + " readings after settling; at least "
                                    + READINGS_MIN
                                    + " are needed. Leave the probe there for longer."));
        }
        // The longest one: the others are mostly the minutes in which a probe was carried.
        Trouble longest =
                its.stream()
                        .reduce(
                                (one, other) ->
                                        other.endMillis - other.beginMillis
                                                        > one.endMillis - one.beginMillis
                                                ? other
                                                : one)
                        .orElseThrow();
        return Optional.of(
                new Reason(
                        longest.reason.kind(),
                        "From "
                                + time(longest.beginMillis)
                                + " to "
                                + time(longest.endMillis)
                                + ", between two moves"
                                + (point.isMoved() ? " (" + point.words() + ")" : "")
                                + ": "
                                + longest.reason.words()));
    }

    private String time(long epochMillis) {
        return input.wording().time(Instant.ofEpochMilli(epochMillis));
    }

    /** Which parts count, where the moved probes stood meanwhile, and what was left out. */
    String words(List<Settling.Found> found) {
        String parts =
                found.stream()
                        .map(
                                part ->
                                        time(cells.beginMillis(part.from()))
                                                + " to "
                                                + time(cells.beginMillis(part.to()))
                                                + " ("
                                                + IntStream.range(0, points.size())
                                                        .filter(i -> points.get(i).isMoved())
                                                        .filter(i -> isThere(i, part.from()))
                                                        .mapToObj(i -> points.get(i).words())
                                                        .collect(Collectors.joining(", "))
                                                + ")")
                        .collect(Collectors.joining("; "));
        int counted = found.stream().mapToInt(Settling.Found::size).sum();
        return "Probes were moved. Settled "
                + parts
                + ". Left out: the last 10 min before each move, and what came after it until every"
                + " point was within "
                + input.wording().difference(Measure.TEMPERATURE, settling.tolerance())
                + " of where it stays, "
                + Wording.length(Duration.ofMillis((cells.size() - counted) * cells.cellMillis()))
                + " in all.";
    }
}
