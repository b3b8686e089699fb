package io.evenwarm.monitor.evenness;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * Finds the part of a span in which a cabinet has settled.
 *
 * <p>Each point ends somewhere: the median of its {@value #BLOCK_MINUTES}-minute means over the
 * last third. It is settled from where all its later means stay within a tolerance of that, half of
 * the limit (DIN 12880, clause 7.6: heating up ends when the value stays within the limit
 * permanently; half of it, since the limit is what is to be proved). A cabinet is settled when all
 * its points are. Single minutes count too, by the median of the points: a look inside is over too
 * soon to move ten minutes by much.
 */
final class Settling {

    /** DKD-R 5-7, 7.3: at least 30 min of record after the steady state is reached. */
    static final double SETTLED_MINUTES_MIN = 30;

    static final double BLOCK_MINUTES = 10;

    /** Of the limit. */
    private static final double TOLERANCE_SHARE = 0.5;

    /** A minute in which the cabinet as a whole is this many tolerances off is a disturbance. */
    private static final double MINUTE_TOLERANCES = 2;

    /** Cells from the first to before the last of the settled part. */
    record Found(int from, int to, String words) {
        int size() {
            return to - from;
        }
    }

    /** What there is instead. */
    record Outcome(Optional<Found> found, List<Reason> reasons) {
        static Outcome of(Found found) {
            return new Outcome(Optional.of(found), List.of());
        }

        static Outcome none(Reason.Kind kind, String words) {
            return new Outcome(Optional.empty(), List.of(new Reason(kind, words)));
        }
    }

    private final Cells cells;
    private final List<SurveyPoint> points;
    private final SurveyInput input;
    private final double tolerance;

    Settling(Cells cells, List<SurveyPoint> points, SurveyInput input) {
        this.cells = cells;
        this.points = points;
        this.input = input;
        tolerance = TOLERANCE_SHARE * input.limitKelvin();
    }

    double tolerance() {
        return tolerance;
    }

    Outcome find() {
        if (input.doorOpenedAt().isEmpty()) {
            return find(0, cells.size());
        }
        long opened = input.doorOpenedAt().get().toEpochMilli();
        int door = (int) ((opened - cells.beginMillis(0)) / cells.cellMillis());
        Outcome before = find(0, door);
        if (before.found().isPresent()) {
            return before;
        }
        Outcome after = find(Math.min(door + 1, cells.size()), cells.size());
        return after.found().isPresent() ? after : before;
    }

    /**
     * The same of a part, from one cell to before another; points that are not in it don't count.
     */
    Outcome find(int begin, int end) {
        int length = cells.cellsOf(BLOCK_MINUTES);
        int blocks = (end - begin) / length;
        int needed = (int) Math.ceil(SETTLED_MINUTES_MIN / cells.minutes() / length);
        if (blocks < needed) {
            return Outcome.none(
                    Reason.Kind.TOO_SHORT,
                    "There are only "
                            + Wording.length(length(end - begin))
                            + " of readings; a survey needs 30 min after the cabinet has settled."
                            + " Choose a longer span.");
        }
        int first = end - blocks * length;
        Blocks of = new Blocks(first, length, blocks, references(first, length, blocks));
        boolean[] isOut = new boolean[blocks];
        for (int b = 0; b < blocks; b++) {
            isOut[b] = isOut(of, b);
        }
        int settledFrom = blocks;
        while (settledFrom > 0 && !isOut[settledFrom - 1]) {
            settledFrom--;
        }
        Optional<int[]> earlier = settledRunBefore(isOut, settledFrom, needed);
        if (earlier.isPresent() && settledFrom == blocks && passesThrough(of, earlier.get())) {
            return Outcome.none(Reason.Kind.NEVER_SETTLED, drifting(of));
        }
        if (earlier.isPresent()) {
            return Outcome.none(Reason.Kind.DISTURBED, disturbed(of, earlier.get()[1]));
        }
        if (blocks - settledFrom < needed) {
            return Outcome.none(Reason.Kind.NEVER_SETTLED, unsettled(of, isOut));
        }
        return Outcome.of(
                new Found(
                        first + settledFrom * length,
                        end,
                        settled(of, settledFrom, first - begin)));
    }

    /**
     * How many points have kept, by themselves, where they end for the last half hour: all of them
     * may have at different times before the cabinet as a whole has.
     */
    int steadyPoints() {
        int length = cells.cellsOf(BLOCK_MINUTES);
        int blocks = cells.size() / length;
        int needed = (int) Math.ceil(SETTLED_MINUTES_MIN / cells.minutes() / length);
        if (blocks < needed) {
            return 0;
        }
        int first = cells.size() - blocks * length;
        double[] references = references(first, length, blocks);
        int steady = 0;
        for (int i = 0; i < points.size(); i++) {
            boolean isSteady = true;
            for (int b = blocks - needed; b < blocks; b++) {
                double mean = cells.mean(i, first + b * length, first + (b + 1) * length);
                isSteady &= Math.abs(mean - references[i]) <= tolerance;
            }
            steady += isSteady ? 1 : 0;
        }
        return steady;
    }

    /** Equal stretches of cells, and where each point ends. */
    private static final class Blocks {
        private final int first;
        private final int length;
        private final int count;
        private final double[] references;

        Blocks(int first, int length, int count, double[] references) {
            this.first = first;
            this.length = length;
            this.count = count;
            this.references = references;
        }

        int from(int block) {
            return first + block * length;
        }
    }

    private double[] references(int first, int length, int blocks) {
        double[] references = new double[points.size()];
        int third = Math.max(3, blocks / 3);
        int from = Math.max(0, blocks - third);
        double[] means = new double[blocks - from];
        for (int i = 0; i < references.length; i++) {
            int found = 0;
            for (int b = from; b < blocks; b++) {
                double mean = cells.mean(i, first + b * length, first + (b + 1) * length);
                if (!Double.isNaN(mean)) {
                    means[found++] = mean;
                }
            }
            references[i] = Cells.median(means, found);
        }
        return references;
    }

    private boolean isOut(Blocks of, int block) {
        int from = of.from(block);
        int to = from + of.length;
        for (int i = 0; i < points.size(); i++) {
            if (Math.abs(cells.mean(i, from, to) - of.references[i]) > tolerance) {
                return true;
            }
        }
        for (int cell = from; cell < to; cell++) {
            if (Math.abs(departure(of, cell)) > MINUTE_TOLERANCES * tolerance) {
                return true;
            }
        }
        return setPointChanges(from, to);
    }

    /** How far the cabinet as a whole is from where it ends; 0 where nothing is known. */
    private double departure(Blocks of, int cell) {
        double[] departures = new double[points.size()];
        int found = 0;
        for (int i = 0; i < departures.length; i++) {
            double departure = cells.value(i, cell) - of.references[i];
            if (!Double.isNaN(departure)) {
                departures[found++] = departure;
            }
        }
        return found == 0 ? 0 : Cells.median(departures, found);
    }

    /** Whether the cabinet came from one side of where it ends to leave on the other. */
    private boolean passesThrough(Blocks of, int[] run) {
        return run[0] > 0 && blockDeparture(of, run[0] - 1) * blockDeparture(of, of.count - 1) < 0;
    }

    /** How far a block's means are from where their points end, by the median of the points. */
    private double blockDeparture(Blocks of, int block) {
        double[] departures = new double[points.size()];
        int found = 0;
        for (int i = 0; i < departures.length; i++) {
            double departure =
                    cells.mean(i, of.from(block), of.from(block) + of.length) - of.references[i];
            if (!Double.isNaN(departure)) {
                departures[found++] = departure;
            }
        }
        return found == 0 ? 0 : Cells.median(departures, found);
    }

    private String drifting(Blocks of) {
        int third = Math.max(0, of.count - 1 - of.count / 3);
        double change = blockDeparture(of, of.count - 1) - blockDeparture(of, third);
        return "The cabinet never settled: it goes on "
                + (change > 0 ? "rising" : "falling")
                + ", by "
                + input.wording().difference(Measure.TEMPERATURE, Math.abs(change))
                + " over the last "
                + Wording.length(length((of.count - 1 - third) * of.length))
                + ". Wait longer, or see what moves it.";
    }

    /** That the set point was changed within a part, from one cell to before another. */
    Optional<Reason> setPointChange(int from, int to) {
        return setPointChanges(from, to)
                ? Optional.of(
                        new Reason(
                                Reason.Kind.DISTURBED,
                                "The set point was changed between two of the moves: all places"
                                        + " must be measured at the same one."))
                : Optional.empty();
    }

    private boolean setPointChanges(int from, int to) {
        double last = Double.NaN;
        for (int i = 0; i < input.setPointCelsius().size(); i++) {
            long time = input.setPointCelsius().epochMillis(i);
            double value = input.setPointCelsius().value(i);
            if (Double.isNaN(value)) {
                continue;
            }
            if (value != last
                    && !Double.isNaN(last)
                    && time >= cells.beginMillis(from)
                    && time < cells.beginMillis(to)) {
                return true;
            }
            last = value;
        }
        return false;
    }

    /** The last stretch of settled blocks before one that is out, if long enough: begin, end. */
    private static Optional<int[]> settledRunBefore(boolean[] isOut, int before, int needed) {
        int end = before;
        while (end > 0) {
            while (end > 0 && isOut[end - 1]) {
                end--;
            }
            int begin = end;
            while (begin > 0 && !isOut[begin - 1]) {
                begin--;
            }
            if (end - begin >= needed) {
                return Optional.of(new int[] {begin, end});
            }
            end = begin;
        }
        return Optional.empty();
    }

    private String disturbed(Blocks of, int block) {
        double extreme = 0;
        int at = of.from(block);
        int end = Math.min(of.from(Math.min(of.count, block + 6)), cells.size());
        for (int cell = of.from(block); cell < end; cell++) {
            double departure = departure(of, cell);
            if (Math.abs(departure) > Math.abs(extreme)) {
                extreme = departure;
                at = cell;
            }
        }
        String when = input.wording().time(Instant.ofEpochMilli(cells.beginMillis(at)));
        String by = input.wording().difference(Measure.TEMPERATURE, Math.abs(extreme));
        if (setPointChanges(of.from(block), Math.min(cells.size(), of.from(block) + of.length))) {
            return "The set point was changed at about "
                    + when
                    + ". Choose a span that begins after that.";
        }
        if (Math.abs(extreme) <= tolerance) {
            return "At about "
                    + when
                    + " a point left where it had settled and came back, the others did not: was"
                    + " its probe moved? Choose a span without it, or say with --positions which"
                    + " probe stood where.";
        }
        return extreme < 0
                ? "At about "
                        + when
                        + " the cabinet fell by "
                        + by
                        + ", as it does when the door is opened. Choose a span without it"
                        + (points.stream().anyMatch(SurveyPoint::isMoved)
                                ? ", or say that a probe was moved then."
                                : ", or say with --door when the door was opened for 30 s on"
                                        + " purpose.")
                : "At about "
                        + when
                        + " the cabinet rose by "
                        + by
                        + " and came back. Choose a span without it.";
    }

    /** How far a point was from where it ended, K. */
    private record Departure(int point, double kelvin) {}

    /** The point that was farthest from where it ended, in a block. */
    private Departure farthest(Blocks of, int block) {
        Departure farthest = new Departure(0, 0);
        for (int i = 0; i < points.size(); i++) {
            double kelvin =
                    Math.abs(
                            cells.mean(i, of.from(block), of.from(block) + of.length)
                                    - of.references[i]);
            if (kelvin > farthest.kelvin) {
                farthest = new Departure(i, kelvin);
            }
        }
        return farthest;
    }

    private String unsettled(Blocks of, boolean[] isOut) {
        int last = of.count - 1;
        while (last > 0 && !isOut[last]) {
            last--;
        }
        Departure farthest = farthest(of, last);
        return "The cabinet never settled: at "
                + input.wording().time(Instant.ofEpochMilli(cells.beginMillis(of.from(last))))
                + " "
                + points.get(farthest.point).words()
                + " was still "
                + input.wording().difference(Measure.TEMPERATURE, farthest.kelvin)
                + " from where it was at the end, and not more than "
                + input.wording().difference(Measure.TEMPERATURE, tolerance)
                + " is allowed for 30 min. Wait longer, or see what moves it.";
    }

    private String settled(Blocks of, int settledFrom, int cutOff) {
        String from =
                input.wording().time(Instant.ofEpochMilli(cells.beginMillis(of.from(settledFrom))));
        String within =
                "every 10-minute mean of every point is within "
                        + input.wording().difference(Measure.TEMPERATURE, tolerance)
                        + " of where the point ends";
        if (settledFrom == 0) {
            return "Settled from the begin, " + from + ", on: " + within + ".";
        }
        Departure before = farthest(of, settledFrom - 1);
        return "Settled from "
                + from
                + " on, "
                + Wording.length(length(cutOff + settledFrom * of.length))
                + " after the begin: from there "
                + within
                + ", and just before "
                + points.get(before.point).words()
                + " was "
                + input.wording().difference(Measure.TEMPERATURE, before.kelvin)
                + " off.";
    }

    private Duration length(int cellCount) {
        return Duration.ofMillis(cellCount * cells.cellMillis());
    }
}
