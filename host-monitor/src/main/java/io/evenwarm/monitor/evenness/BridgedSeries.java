package io.evenwarm.monitor.evenness;

import io.evenwarm.monitor.history.TimeSpan;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;
import org.apache.commons.math3.stat.descriptive.moment.StandardDeviation;

/**
 * The series of a settled part, whole at every point, also where a probe stood for some of the time
 * only.
 *
 * <p>Such a point is known by its difference to a reference point that was measured all the time,
 * {@code d = T − Tref} while the probe stood there. For the rest of the time it is taken to be
 * {@code Tref + mean(d)}: what the cabinet as a whole does meanwhile moves all of its places alike,
 * and is no difference between them.
 *
 * <p>What that costs: the mean of d stands for the whole run but was measured for n of its samples
 * only. How far it may be off is {@code √(S/n)}, with S the long-run variance of such a difference
 * ({@link SlowPart}): the point's own while it was measured, or that of other points that stayed
 * over the whole run, whichever says more. The latter sees slower changes, such as of the room.
 * Where none but the reference stayed, the pattern may have moved in proportion to the heat that
 * goes through the cabinet (by the difference to the room, else by duty), or where neither is known
 * as much as the reference itself: a half width, rectangular.
 *
 * @param bridging how that was done; empty where no probe was moved
 */
record BridgedSeries(FigureSeries series, Optional<Bridging> bridging) {

    private static final double HALF_HOUR_MINUTES = 30;

    /** For 95 %, of what is added to the probes' own. */
    private static final double NORMAL = Estimate.systematic(0, 1).coverageFactor();

    /**
     * @param points fixed ones and others
     * @param part the settled parts in a row; a point has no value where its probe was elsewhere
     * @param found the settled parts
     * @param heat what drives the pattern, cell by cell: difference to the room, or duty
     */
    static BridgedSeries of(
            List<SurveyPoint> points,
            Cells part,
            List<Settling.Found> found,
            Optional<double[]> heat) {
        int count = points.size();
        double[][] values = new double[count][];
        double[] scatters = new double[count];
        List<Integer> fixed =
                IntStream.range(0, count).filter(i -> !points.get(i).isMoved()).boxed().toList();
        for (int i : fixed) {
            values[i] = offset(part.withoutHoles(i), points.get(i));
            scatters[i] = new StandardDeviation().evaluate(values[i]);
        }
        SlowPart[] stays = new SlowPart[count];
        double[] added = new double[count];
        List<Bridging.Place> places = new ArrayList<>();
        if (fixed.size() < count) {
            double[] reference = values[reference(points, fixed)];
            double[] others =
                    fixed.stream()
                            .map(i -> values[i])
                            .filter(series -> series != reference)
                            .map(series -> SlowPart.of(minus(series, reference)))
                            .mapToDouble(SlowPart::longRunVariance)
                            .toArray();
            for (int i = 0; i < count; i++) {
                if (!points.get(i).isMoved()) {
                    continue;
                }
                SurveyPoint point = points.get(i);
                int[] there =
                        IntStream.range(0, part.size())
                                .filter(t -> point.wasThere(part.beginMillis(t), part.cellMillis()))
                                .toArray();
                int index = i;
                double[] its =
                        offset(
                                Cells.withoutHoles(
                                        Arrays.stream(there)
                                                .mapToDouble(t -> part.value(index, t))
                                                .toArray()),
                                point);
                double[] then = Arrays.stream(there).mapToDouble(t -> reference[t]).toArray();
                SlowPart difference = SlowPart.of(minus(its, then));
                scatters[i] = new StandardDeviation().evaluate(its);
                stays[i] = difference;
                values[i] = plus(reference, difference.mean());
                for (int k = 0; k < there.length; k++) {
                    values[i][there[k]] = its[k];
                }
                double own = difference.meanEstimate().expanded();
                added[i] =
                        others.length > 0
                                ? Math.max(own, ofOthers(others, there.length))
                                : Math.hypot(
                                        own,
                                        NORMAL
                                                * ProbeQuality.rectangular(
                                                        drift(reference, there, difference, heat)));
                places.add(
                        new Bridging.Place(
                                point.probe(),
                                point.position().label(),
                                settled(point, part, found),
                                added[i]));
            }
        }
        FigureSeries series =
                new FigureSeries(
                        points,
                        values,
                        scatters,
                        Arrays.stream(added).map(expanded -> expanded / NORMAL).toArray(),
                        stays,
                        halfHours(found, part.cellsOf(HALF_HOUR_MINUTES)));
        return new BridgedSeries(
                series,
                places.isEmpty()
                        ? Optional.empty()
                        : Optional.of(
                                new Bridging(
                                        points.get(reference(points, fixed)).words(), places)));
    }

    private static double[] offset(double[] read, SurveyPoint point) {
        return plus(read, point.quality().offset());
    }

    private static double[] plus(double[] values, double more) {
        return Arrays.stream(values).map(value -> value + more).toArray();
    }

    private static double[] minus(double[] one, double[] other) {
        double[] difference = new double[one.length];
        Arrays.setAll(difference, t -> one[t] - other[t]);
        return difference;
    }

    /** The fixed point at the centre, else the one nearest to it. */
    private static int reference(List<SurveyPoint> points, List<Integer> fixed) {
        int nearest = fixed.get(0);
        for (int i : fixed) {
            if (points.get(i).position().fromCentre()
                    < points.get(nearest).position().fromCentre()) {
                nearest = i;
            }
        }
        return nearest;
    }

    /** How far a mean of so many samples may be off by what fixed points show, ± for 95 %. */
    private static double ofOthers(double[] longRunVariances, int samples) {
        double mean = Arrays.stream(longRunVariances).average().orElse(0);
        return new Estimate(
                        0,
                        Math.sqrt(mean / samples),
                        SlowPart.USUAL_DEGREES * longRunVariances.length)
                .expanded();
    }

    /** How far the pattern may have moved where no second point tells. */
    private static double drift(
            double[] reference, int[] there, SlowPart difference, Optional<double[]> heat) {
        if (heat.isPresent()) {
            double all = Arrays.stream(heat.get()).average().orElse(0);
            double then = Arrays.stream(there).mapToDouble(t -> heat.get()[t]).average().orElse(0);
            if (all > 0) {
                return Math.abs(difference.mean() * (then - all) / all);
            }
        }
        return Math.abs(
                Arrays.stream(there).mapToDouble(t -> reference[t]).average().orElse(0)
                        - Arrays.stream(reference).average().orElse(0));
    }

    private static List<TimeSpan> settled(
            SurveyPoint point, Cells part, List<Settling.Found> found) {
        List<TimeSpan> settled = new ArrayList<>();
        int at = 0;
        for (Settling.Found of : found) {
            long begin = part.beginMillis(at);
            long length = of.size() * part.cellMillis();
            if (point.wasThere(begin, length)) {
                settled.add(
                        new TimeSpan(
                                Instant.ofEpochMilli(begin), Instant.ofEpochMilli(begin + length)));
            }
            at += of.size();
        }
        return settled;
    }

    /** First and before the last cell of each whole half hour of each part. */
    private static List<int[]> halfHours(List<Settling.Found> found, int length) {
        List<int[]> halfHours = new ArrayList<>();
        int begin = 0;
        for (Settling.Found of : found) {
            for (int from = begin; from + length <= begin + of.size(); from += length) {
                halfHours.add(new int[] {from, from + length});
            }
            begin += of.size();
        }
        return halfHours;
    }
}
