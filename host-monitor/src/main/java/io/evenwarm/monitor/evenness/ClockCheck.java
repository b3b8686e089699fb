package io.evenwarm.monitor.evenness;

import io.evenwarm.monitor.history.Curve;
import io.evenwarm.monitor.history.TimeSpan;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * Whether one point's clock is off against the others', as after daylight saving or in another
 * zone: what happens in the cabinet then shows at the point at another time.
 *
 * <p>How much a point changes within ten minutes is correlated with what the others do, at each
 * shift up to 14 h (zones reach from UTC−12 to UTC+14; two loggers in one cabinet are less apart).
 * Only a clear answer counts: something did happen, it fits well at another time, and it does not
 * fit now. Where nothing happened in the cabinet nothing can be said, and a wrong clock does no
 * harm to means either.
 */
final class ClockCheck {

    private static final double LONGEST_MINUTES = 14 * 60;
    private static final double SHORTEST_MINUTES = 10;
    private static final double OVERLAP_MINUTES = 120;

    /** A divisor of every zone's quarter of an hour, well within what is looked at. */
    private static final double STEP_MINUTES = 3;

    private static final double QUICK_MINUTES = 10;

    /** Correlation at the shift, and what it must be better by than without. */
    private static final double FITS = 0.7;

    private static final double FITS_BETTER_BY = 0.4;

    /** Something that happened moves a point by this much, as a standard deviation in K. */
    private static final double EVENT_KELVIN = 0.1;

    private final Cells cells;
    private final List<SurveyPoint> points;

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
    }

    List<Reason> reasons() {
        List<Reason> reasons = new ArrayList<>();
        if (points.size() < 3 || cells.size() * cells.minutes() < 2 * OVERLAP_MINUTES) {
            return reasons;
        }
        int quickly = cells.cellsOf(QUICK_MINUTES);
        double[][] quick = new double[points.size()][];
        for (int i = 0; i < quick.length; i++) {
            if (cells.missing(i) == cells.size()) {
                return reasons;
            }
            quick[i] = quick(cells.withoutHoles(i), quickly);
        }
        for (int i = 0; i < quick.length; i++) {
            Optional<Integer> shift = shift(quick[i], medianOfOthers(quick, i));
            if (shift.isPresent()) {
                reasons.add(new Reason(Reason.Kind.CLOCK_OFF, words(i, shift.get())));
            }
        }
        return reasons;
    }

    private String words(int point, int shift) {
        Duration off = Duration.ofMillis(Math.abs(shift) * cells.cellMillis());
        return points.get(point).words()
                + " shows what the other points show "
                + Wording.length(off)
                + (shift > 0 ? " later" : " earlier")
                + ": the clock of its logger, or its zone, is wrong. Import its file anew with the"
                + " right zone.";
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
    private static double[] medianOfOthers(double[][] of, int except) {
        double[] medians = new double[of[0].length];
        double[] here = new double[of.length - 1];
        for (int t = 0; t < medians.length; t++) {
            int found = 0;
            for (int i = 0; i < of.length; i++) {
                if (i != except) {
                    here[found++] = of[i][t];
                }
            }
            medians[t] = Cells.median(here, found);
        }
        return medians;
    }

    private Optional<Integer> shift(double[] one, double[] others) {
        double[] energy = energy(one);
        double[] energyOfOthers = energy(others);
        if (!hasEvent(energy, 0, one.length) || !hasEvent(energyOfOthers, 0, one.length)) {
            return Optional.empty();
        }
        int most =
                Math.min(
                        cells.cellsOf(LONGEST_MINUTES),
                        one.length - cells.cellsOf(OVERLAP_MINUTES));
        int least = cells.cellsOf(SHORTEST_MINUTES);
        double now = -1;
        double best = -1;
        int bestShift = 0;
        int step = cells.cellsOf(STEP_MINUTES);
        for (int shift = -most / step * step; shift <= most; shift += step) {
            // Of one[t + shift] with others[t]; ends where nothing happened don't fit by chance.
            int from = Math.max(0, -shift);
            int to = Math.min(others.length, one.length - shift);
            double fit =
                    hasEvent(energy, from + shift, to + shift) && hasEvent(energyOfOthers, from, to)
                            ? product(one, others, shift, from, to)
                                    / Math.sqrt(
                                            (energy[to + shift] - energy[from + shift])
                                                    * (energyOfOthers[to] - energyOfOthers[from]))
                            : 0;
            if (Math.abs(shift) < least) {
                now = Math.max(now, fit);
            } else if (fit > best) {
                best = fit;
                bestShift = shift;
            }
        }
        return best >= FITS && best >= now + FITS_BETTER_BY
                ? Optional.of(bestShift)
                : Optional.empty();
    }

    /** Sums of squares up to before each index. */
    private static double[] energy(double[] series) {
        double[] sums = new double[series.length + 1];
        for (int t = 0; t < series.length; t++) {
            sums[t + 1] = sums[t] + series[t] * series[t];
        }
        return sums;
    }

    private static boolean hasEvent(double[] energy, int from, int to) {
        return energy[to] - energy[from] >= EVENT_KELVIN * EVENT_KELVIN * (to - from);
    }

    private static double product(double[] one, double[] others, int shift, int from, int to) {
        double product = 0;
        for (int t = from; t < to; t++) {
            product += one[t + shift] * others[t];
        }
        return product;
    }
}
