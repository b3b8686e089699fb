package io.evenwarm.monitor.evenness;

import io.evenwarm.monitor.history.Curve;
import io.evenwarm.monitor.history.TimeSpan;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.OptionalInt;
import java.util.function.IntPredicate;
import java.util.stream.Collectors;

/**
 * Whether one point's clock is off against the others', as after daylight saving or in another
 * zone: what happens in the cabinet then shows at the point at another time.
 *
 * <p>How much a point changes within ten minutes is correlated with what the others do, at each
 * shift up to 14 h (zones reach from UTC−12 to UTC+14; two loggers in one cabinet are less apart).
 * Only a clear answer counts:
 *
 * <ul>
 *   <li>where something happened (a door, warming up): it fits well at another time, and not now;
 *   <li>where nothing did, by what little moves all points: it fits at a whole or half hour, not
 *       now, better than at any other time, and by five times what chance gives; by three times
 *       where the point's readings lack just that long at an end of the span.
 * </ul>
 *
 * <p>Where neither says anything, a wrong clock does no harm to means; what it lacks at an end is
 * told as a gap.
 */
final class ClockCheck {

    /** Zones are whole and half hours apart, but for few. */
    static final double ZONE_STEP_MINUTES = 30;

    /** Loggers begin a little late, and clocks of some are a minute off. */
    static final double ZONE_REACH_MINUTES = 3;

    private static final double LONGEST_MINUTES = 14 * 60;
    private static final double SHORTEST_MINUTES = 10;
    private static final double OVERLAP_MINUTES = 120;

    /** A divisor of every zone's quarter of an hour, well within what is looked at. */
    private static final double STEP_MINUTES = 3;

    private static final double QUICK_MINUTES = 10;

    /** Correlation at the shift, and what it must be better by than without. */
    private static final double FITS = 0.7;

    private static final double FITS_BETTER_BY = 0.4;

    /** The same where nothing happened. */
    private static final double FITS_QUIETLY = 0.4;

    private static final double FITS_QUIETLY_BETTER_BY = 0.25;

    /** Of the scatter of all fits. */
    private static final double CHANCES = 5;

    /** The same where the hole at an end says at which shift to look. */
    private static final double CHANCES_WITH_A_HOLE = 3;

    /** Something that happened moves a point by this much, as a standard deviation in K. */
    private static final double EVENT_KELVIN = 0.1;

    private final Cells cells;
    private final List<SurveyPoint> points;
    private final int step;

    /**
     * @param points one of each probe: all that it read counts, wherever it stood
     */
    ClockCheck(TimeSpan span, long cellMillis, List<SurveyPoint> points) {
        cells =
                Cells.of(
                        span,
                        cellMillis,
                        points.stream().map(SurveyPoint::curve).toArray(Curve[]::new));
        this.points = points;
        step = cells.cellsOf(STEP_MINUTES);
    }

    List<Reason> reasons() {
        List<Reason> reasons = new ArrayList<>();
        if (points.size() < 3 || cells.size() * cells.minutes() < 2 * OVERLAP_MINUTES) {
            return reasons;
        }
        int quickly = cells.cellsOf(QUICK_MINUTES);
        double[][] quick = new double[points.size()][];
        double[][] smooth = new double[points.size()][];
        OptionalInt[] holes = new OptionalInt[points.size()];
        for (int i = 0; i < quick.length; i++) {
            if (cells.missing(i) == cells.size()) {
                return reasons;
            }
            double[] whole = cells.withoutHoles(i);
            quick[i] = quick(whole, quickly);
            smooth[i] = quick(means(whole, quickly), quickly);
            holes[i] = holeOfAZone(cells, i);
        }
        for (int i = 0; i < quick.length && reasons.isEmpty(); i++) {
            int point = i;
            double[] others = medianOfOthers(quick, other -> other != point);
            OptionalInt shift = shift(quick[i], others);
            if (shift.isPresent()) {
                reasons.add(reason(i, shift.getAsInt(), quick));
            }
        }
        for (int i = 0; i < quick.length && reasons.isEmpty(); i++) {
            OptionalInt shift = quietly(i, smooth, holes);
            if (shift.isPresent()) {
                reasons.add(reason(i, shift.getAsInt(), smooth));
            }
        }
        return reasons;
    }

    private OptionalInt quietly(int point, double[][] smooth, OptionalInt[] holes) {
        // Channels of one logger lack the same and are off together.
        double[] others =
                medianOfOthers(
                        smooth,
                        other ->
                                other != point
                                        && (holes[point].isEmpty() || holes[other].isEmpty()));
        return quietShift(smooth[point], others, holes[point]);
    }

    /**
     * Says which are off: channels of one logger are so together, and the fewer are the wrong ones.
     *
     * @param point one of them, or where more are off than not, one of the right ones
     * @param shift at which it fits the others
     */
    private Reason reason(int point, int shift, double[][] of) {
        List<SurveyPoint> together = new ArrayList<>();
        List<SurveyPoint> others = new ArrayList<>();
        for (int i = 0; i < of.length; i++) {
            Fits fits = new Fits(of[point], of[i]);
            boolean isTogether = i == point || fits.at(0, 0) > fits.at(shift, 0);
            (isTogether ? together : others).add(points.get(i));
        }
        boolean isOfTheFewer = together.size() < others.size();
        boolean isEither = together.size() == others.size();
        List<SurveyPoint> off = isOfTheFewer || isEither ? together : others;
        boolean isLater = shift > 0 == (isOfTheFewer || isEither);
        return new Reason(
                Reason.Kind.CLOCK_OFF,
                words(off)
                        + (off.size() == 1 ? " shows what " : " show what ")
                        + (isEither ? words(others) : "the other points")
                        + " show "
                        + Wording.length(Duration.ofMillis(Math.abs(shift) * cells.cellMillis()))
                        + (isLater ? " later" : " earlier")
                        + ": the clock of "
                        + (isEither
                                ? "one of their loggers"
                                : off.size() == 1 ? "its logger" : "their logger")
                        + ", or its zone, is wrong. "
                        + (isEither
                                ? "Find out which, import its file anew with the right --zone, as"
                                        + " probes of other names, and leave these out by --without."
                                : wayOut(off.stream().map(SurveyPoint::probe).toList())));
    }

    private static String words(List<SurveyPoint> of) {
        return of.stream().map(SurveyPoint::words).collect(Collectors.joining(", "));
    }

    /**
     * What a point lacks at one end of the span, and at that end alone, where it is about whole or
     * half hours: in cells, more than 0 at the begin, as of a clock that is ahead.
     */
    static OptionalInt holeOfAZone(Cells cells, int point) {
        int size = cells.size();
        int head = 0;
        while (head < size && Double.isNaN(cells.value(point, head))) {
            head++;
        }
        int tail = 0;
        while (tail < size - head && Double.isNaN(cells.value(point, size - 1 - tail))) {
            tail++;
        }
        boolean isAtTheBegin = head > tail;
        int hole = isAtTheBegin ? head : tail;
        return Math.min(head, tail) * cells.minutes() <= ZONE_REACH_MINUTES
                        && isOfAZone(hole * cells.minutes())
                ? OptionalInt.of(isAtTheBegin ? hole : -hole)
                : OptionalInt.empty();
    }

    /** Whether a length is about one or more half hours. */
    private static boolean isOfAZone(double minutes) {
        double steps = Math.rint(minutes / ZONE_STEP_MINUTES);
        return steps >= 1
                && Math.abs(minutes - steps * ZONE_STEP_MINUTES) <= ZONE_REACH_MINUTES + 1e-9;
    }

    /** What to do about probes whose readings are of a wrong time. */
    static String wayOut(List<String> probes) {
        return "Import its file anew with the right --zone, as "
                + (probes.size() == 1
                        ? "a probe of another name, and leave this one out by "
                        : "probes of other names, and leave these out by ")
                + probes.stream()
                        .map(probe -> "--without \"" + probe + "\"")
                        .collect(Collectors.joining(" "))
                + ".";
    }

    /** Means of that many cells from each one on; at the end of fewer. */
    private static double[] means(double[] series, int length) {
        double[] sums = new double[series.length + 1];
        for (int t = 0; t < series.length; t++) {
            sums[t + 1] = sums[t] + series[t];
        }
        double[] means = new double[series.length];
        for (int t = 0; t < means.length; t++) {
            int end = Math.min(series.length, t + length);
            means[t] = (sums[end] - sums[t]) / (end - t);
        }
        return means;
    }

    /** How much a series changes within that many cells: what is slower hardly counts. */
    private static double[] quick(double[] series, int length) {
        double[] quick = new double[series.length];
        for (int i = length; i < series.length; i++) {
            quick[i] = series[i] - series[i - length];
        }
        return quick;
    }

    /** The median, so that a second wrong clock does not spoil it. */
    private static double[] medianOfOthers(double[][] of, IntPredicate counts) {
        double[] medians = new double[of[0].length];
        double[] here = new double[of.length];
        for (int t = 0; t < medians.length; t++) {
            int found = 0;
            for (int i = 0; i < of.length; i++) {
                if (counts.test(i)) {
                    here[found++] = of[i][t];
                }
            }
            medians[t] = found == 0 ? 0 : Cells.median(here, found);
        }
        return medians;
    }

    /** How well two series fit at a shift, of one[t + shift] with others[t]: −1 to 1. */
    private static final class Fits {
        private final double[] one;
        private final double[] others;
        private final double[] energy;
        private final double[] energyOfOthers;

        Fits(double[] one, double[] others) {
            this.one = one;
            this.others = others;
            energy = energy(one);
            energyOfOthers = energy(others);
        }

        /**
         * @param kelvin that both must have moved by in what they share, as a standard deviation
         */
        double at(int shift, double kelvin) {
            int from = Math.max(0, -shift);
            int to = Math.min(others.length, one.length - shift);
            double ofOne = energy[to + shift] - energy[from + shift];
            double ofOthers = energyOfOthers[to] - energyOfOthers[from];
            double least = kelvin * kelvin * (to - from);
            return ofOne > 0 && ofOthers > 0 && ofOne >= least && ofOthers >= least
                    ? product(one, others, shift, from, to) / Math.sqrt(ofOne * ofOthers)
                    : 0;
        }

        boolean hasEvents() {
            double least = EVENT_KELVIN * EVENT_KELVIN * one.length;
            return energy[one.length] >= least && energyOfOthers[one.length] >= least;
        }
    }

    /** How far shifts go, in cells: whole steps, so that two hours are left in common. */
    private int longest() {
        int most =
                Math.min(
                        cells.cellsOf(LONGEST_MINUTES),
                        cells.size() - cells.cellsOf(OVERLAP_MINUTES));
        return most / step * step;
    }

    private OptionalInt shift(double[] one, double[] others) {
        Fits fits = new Fits(one, others);
        if (!fits.hasEvents()) {
            return OptionalInt.empty();
        }
        int least = cells.cellsOf(SHORTEST_MINUTES);
        double now = -1;
        double best = -1;
        int bestShift = 0;
        for (int shift = -longest(); shift <= longest(); shift += step) {
            // Ends where nothing happened don't fit by chance.
            double fit = fits.at(shift, EVENT_KELVIN);
            if (Math.abs(shift) < least) {
                now = Math.max(now, fit);
            } else if (fit > best) {
                best = fit;
                bestShift = shift;
            }
        }
        return best >= FITS && best >= now + FITS_BETTER_BY
                ? OptionalInt.of(bestShift)
                : OptionalInt.empty();
    }

    private OptionalInt quietShift(double[] one, double[] others, OptionalInt hole) {
        Fits at = new Fits(one, others);
        int longest = longest();
        double[] fits = new double[2 * longest / step + 1];
        Arrays.setAll(fits, i -> at.at(i * step - longest, 0));
        int near = cells.cellsOf(SHORTEST_MINUTES);
        double now = -1;
        double best = -1;
        int bestShift = 0;
        double squares = 0;
        for (int i = 0; i < fits.length; i++) {
            int shift = i * step - longest;
            squares += fits[i] * fits[i];
            if (Math.abs(shift) <= near) {
                now = Math.max(now, fits[i]);
            } else if (fits[i] > best && isLookedAt(shift, hole)) {
                best = fits[i];
                bestShift = shift;
            }
        }
        double next = -1;
        for (int i = 0; i < fits.length; i++) {
            if (Math.abs(i * step - longest - bestShift) > 2 * near) {
                next = Math.max(next, fits[i]);
            }
        }
        double chance = Math.sqrt(squares / fits.length);
        return best >= FITS_QUIETLY
                        && best >= now + FITS_QUIETLY_BETTER_BY
                        && best > next
                        && best >= (hole.isPresent() ? CHANCES_WITH_A_HOLE : CHANCES) * chance
                ? OptionalInt.of(bestShift)
                : OptionalInt.empty();
    }

    private boolean isLookedAt(int shift, OptionalInt hole) {
        return hole.isPresent()
                ? Math.abs(shift - hole.getAsInt()) * cells.minutes() <= 2 * ZONE_REACH_MINUTES
                : isOfAZone(Math.abs(shift) * cells.minutes());
    }

    /** Sums of squares up to before each index. */
    private static double[] energy(double[] series) {
        double[] sums = new double[series.length + 1];
        for (int t = 0; t < series.length; t++) {
            sums[t + 1] = sums[t] + series[t] * series[t];
        }
        return sums;
    }

    private static double product(double[] one, double[] others, int shift, int from, int to) {
        double product = 0;
        for (int t = from; t < to; t++) {
            product += one[t + shift] * others[t];
        }
        return product;
    }
}
