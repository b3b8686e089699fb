package io.evenwarm.monitor.thermal;

import java.util.function.IntToDoubleFunction;
import org.apache.commons.math3.exception.TooManyEvaluationsException;
import org.apache.commons.math3.exception.TooManyIterationsException;
import org.apache.commons.math3.fitting.leastsquares.LeastSquaresBuilder;
import org.apache.commons.math3.fitting.leastsquares.LevenbergMarquardtOptimizer;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.linear.CholeskyDecomposition;
import org.apache.commons.math3.linear.MatrixUtils;
import org.apache.commons.math3.linear.RealMatrix;
import org.apache.commons.math3.linear.RealVector;
import org.apache.commons.math3.util.Pair;

/**
 * What the eggs went through while nobody measured: from the state before the gap the model runs
 * through it, without heat and fan, and on through the hours after it with the heater as it was.
 * The readings after the gap then say which constants, and which room meanwhile, were so (least
 * squares with the fit's uncertainty as what is known beforehand); what is left uncertain is the
 * band.
 *
 * <p>The coldest shelf is below the mean by what its air was before the gap, in proportion to how
 * far the eggs still are above the room.
 */
public final class GapReview {

    private static final double STEP = ThermalRecord.CELL_SECONDS;
    private static final int AFTER_CELLS = 6 * 60;
    private static final int BEFORE_CELLS = 24 * 60;
    private static final int SMOOTHED_CELLS = 10;

    /** A room's first readings after a gap may be of a probe that still follows. */
    private static final int ROOM_FROM_CELLS = 5;

    private static final int ROOM_TO_CELLS = 30;

    /** Readings after the gap that count: the first, and then one each so many minutes. */
    private static final int EVERY_CELLS = 10;

    /** How far a lumped model is off after a gap, alike for hours, K. */
    private static final double READING_KELVIN = 0.8;

    /** The first reading is of air that has rested with walls and eggs: it tells the most, K. */
    private static final double FIRST_READING_KELVIN = 0.3;

    private static final int FIRST_CELLS = 2;

    /** While the heater is new to a cold cabinet, a lumped model is farther off. */
    private static final int SETTLING_CELLS = 60;

    /** Probes' own errors and the shelf's, K. */
    private static final double OWN_KELVIN = 0.1;

    /** How far tubs that came or went in the gap are from the others, K: 4 K of the band. */
    private static final double RELOADED_KELVIN = 2.35;

    private static final double DEPARTURE = 0.03;

    private static final double LITTLE = 1e-3;

    /**
     * Half width of the 95 % band in deviations. Those of the readings are set so large that hours
     * in which the model is off alike don't count as many, and what is left open comes out wider
     * than it is: so this was taken from 160 simulated cuts whose seeds no check uses.
     */
    static final double BAND = 1.7;

    /**
     * How far the first reading may be from what the model without heat foretells, in deviations of
     * that: one cut in some fifty is farther off by chance to each side.
     */
    private static final double ODD_DEVIATIONS = 2;

    /**
     * From here on a warm reading may be of heat as well as of a warm room or slow eggs. Where no
     * probe reads the room, the deviation is mostly the room's, and this much is odd already.
     */
    private static final double WARM_DEVIATIONS = 1;

    private static final int ROOM = ThermalFitter.SIZE;
    private static final int HEAT = ROOM + 1;
    private static final int EGG_START = HEAT + 1;
    private static final int SIZE = EGG_START + 1;

    private final ThermalRecord record;
    private final int from;
    private final int to;
    private final int end;
    private final double[] start;
    private final double[] heat;
    private final double[] room;
    private final double colderKelvin;
    private final double warmerKelvin;
    private final double ownKelvin;
    private final double[] center = new double[SIZE];
    private final RealMatrix root;
    private final double eggStart;
    private final double roomKelvin;
    private final boolean isRoomMeasured;

    private GapReview(ThermalFit fit, ThermalRecord record, Gap gap) {
        this.record = record;
        from = Math.max(1, record.cell(gap.fromMillis()));
        to = record.cell(gap.toMillis());
        end = Math.min(record.size(), to + AFTER_CELLS);
        StateFilter filter = new StateFilter(new Steps(record.first(from)));
        StateFilter.Gains run = filter.run(fit.constants());
        start = run.mean;
        double eggVariance = run.covariance[Network.EGG][Network.EGG];
        eggStart = start[Network.EGG];
        heat = new double[end];
        room = new double[end];
        fillHeat();
        fillRoom();
        colderKelvin = Math.max(0, -placeKelvin(record::coldestAir));
        warmerKelvin = Math.max(0, placeKelvin(record::warmestAir));
        roomKelvin = gap.roomKelvin();
        isRoomMeasured = gap.isRoomMeasured();
        ownKelvin = OWN_KELVIN + (gap.isLoadChanged() ? RELOADED_KELVIN : 0);
        RealMatrix prior = MatrixUtils.createRealIdentityMatrix(SIZE);
        double[] at = fit.uncertainty().at();
        for (int i = 0; i < ThermalFitter.SIZE; i++) {
            center[i] = at[i];
            for (int j = 0; j < ThermalFitter.SIZE; j++) {
                prior.setEntry(i, j, fit.uncertainty().covariance(i, j));
            }
        }
        prior.setEntry(ROOM, ROOM, Math.max(0.01, gap.roomKelvin() * gap.roomKelvin() / 3));
        prior.setEntry(EGG_START, EGG_START, Math.max(0.01, eggVariance));
        prior.setEntry(HEAT, HEAT, DEPARTURE * DEPARTURE);
        root =
                new CholeskyDecomposition(MatrixUtils.inverse(prior), 1e-8, 1e-12)
                        .getL()
                        .transpose();
    }

    /**
     * Reconstructs a gap.
     *
     * @param fit of the time before the gap
     * @param record at least a day before the gap, and the hours after it
     * @param withEdge whether the readings after the gap count; without them it is what the model
     *     alone foretells
     */
    public static Reconstruction of(
            ThermalFit fit, ThermalRecord record, Gap gap, boolean withEdge) {
        GapReview review = new GapReview(fit, record, gap);
        return review.reconstruction(
                withEdge ? review.mostLikely() : review.center.clone(), withEdge);
    }

    private void fillHeat() {
        double kept = Math.exp(-STEP / Steps.HEATER_LAG_SECONDS);
        double leaving = 0;
        for (int k = to; k < end; k++) {
            double on = record.duty(k);
            leaving = kept * leaving + (1 - kept) * (Double.isFinite(on) ? on : 0);
            heat[k] = leaving;
        }
    }

    /**
     * The room of the gap goes as it went at these hours the day before, moved so that it meets its
     * readings at both ends.
     */
    private void fillRoom() {
        double before = start[StateFilter.ROOM];
        double after = roomMean(to + ROOM_FROM_CELLS, Math.min(end, to + ROOM_TO_CELLS), before);
        double firstOff = before - dayBefore(from, before);
        double lastOff = after - dayBefore(to, before);
        double last = after;
        for (int k = from; k < end; k++) {
            if (k < to) {
                double done = (k - from) / (double) (to - from);
                room[k] = dayBefore(k, before) + firstOff + done * (lastOff - firstOff);
            } else {
                last = Double.isFinite(record.room(k)) ? record.room(k) : last;
                room[k] = last;
            }
        }
    }

    /** The room at the same hour of the newest day before the gap. */
    private double dayBefore(int cell, double otherwise) {
        int then = cell;
        while (then >= from) {
            then -= BEFORE_CELLS;
        }
        if (then < 0) {
            return otherwise;
        }
        return roomMean(
                Math.max(0, then - SMOOTHED_CELLS),
                Math.min(from, then + SMOOTHED_CELLS),
                otherwise);
    }

    private double roomMean(int begin, int stop, double otherwise) {
        double sum = 0;
        int count = 0;
        for (int k = begin; k < stop; k++) {
            if (Double.isFinite(record.room(k))) {
                sum += record.room(k);
                count++;
            }
        }
        return count == 0 ? otherwise : sum / count;
    }

    /** How far a place's air was above the mean over the day before the gap. */
    private double placeKelvin(IntToDoubleFunction place) {
        double sum = 0;
        int count = 0;
        for (int k = Math.max(0, from - BEFORE_CELLS); k < from; k++) {
            double above = place.applyAsDouble(k) - record.air(k);
            if (Double.isFinite(above)) {
                sum += above;
                count++;
            }
        }
        return count == 0 ? 0 : sum / count;
    }

    /** What air and eggs were by given constants, from the gap's begin on. */
    private Reconstruction.Followed follow(double[] z) {
        double[] air = new double[end - from];
        double[] eggs = new double[end - from];
        double[] shares = new double[end - from];
        NetworkConstants of = ThermalFitter.constants(z);
        Network still = new Network(of, false, STEP);
        Network fanOn = new Network(of, true, STEP);
        double[] state = start.clone();
        state[Network.EGG] += z[EGG_START];
        double rise = Math.max(1, eggStart - room[from]);
        for (int k = from; k < end; k++) {
            double around = room[k] + (k < to ? z[ROOM] : 0);
            if (k < to) {
                still.advance(state, around, 0);
            } else {
                double power = heat[k] * of.fullHeatKelvin() * (1 + z[HEAT]) + of.fanKelvin();
                fanOn.advance(state, around, power);
            }
            air[k - from] = state[Network.AIR];
            eggs[k - from] = state[Network.EGG];
            shares[k - from] = Math.max(0, (state[Network.EGG] - around) / rise);
        }
        return new Reconstruction.Followed(air, eggs, shares);
    }

    /**
     * What thermometers show as the mean of a minute: it is of half a minute earlier than its end,
     * and a probe follows the air by another half (common practice, no source). Heat that has just
     * come back warms the air by some tenths of a kelvin within that minute.
     */
    private double shown(double[] air, int cell) {
        return air[Math.max(0, cell - from - 1)];
    }

    private static boolean counts(int sinceEnd) {
        return sinceEnd == 0 || (sinceEnd >= SETTLING_CELLS && sinceEnd % EVERY_CELLS == 0);
    }

    private double[] off(double[] z) {
        double[] air = follow(z).air;
        double[] off = new double[SIZE + end - to];
        double[] prior =
                root.operate(
                        new ArrayRealVector(z).subtract(new ArrayRealVector(center)).toArray());
        System.arraycopy(prior, 0, off, 0, SIZE);
        for (int k = to; k < end; k++) {
            if (counts(k - to) && Double.isFinite(record.air(k))) {
                off[SIZE + k - to] =
                        (shown(air, k) - record.air(k))
                                / (k < to + FIRST_CELLS ? FIRST_READING_KELVIN : READING_KELVIN);
            }
        }
        return off;
    }

    private double[][] slopes(double[] z) {
        double[][] slopes = new double[SIZE + end - to][SIZE];
        for (int i = 0; i < SIZE; i++) {
            double[] beside = z.clone();
            beside[i] += LITTLE;
            double[] above = off(beside);
            beside[i] -= 2 * LITTLE;
            double[] below = off(beside);
            for (int row = 0; row < slopes.length; row++) {
                slopes[row][i] = (above[row] - below[row]) / (2 * LITTLE);
            }
        }
        return slopes;
    }

    private Pair<RealVector, RealMatrix> rows(RealVector point) {
        double[] z = point.toArray();
        return new Pair<>(
                new ArrayRealVector(off(z), false), new Array2DRowRealMatrix(slopes(z), false));
    }

    private double[] mostLikely() {
        try {
            return new LevenbergMarquardtOptimizer()
                    .optimize(
                            new LeastSquaresBuilder()
                                    .start(center)
                                    .model(this::rows)
                                    .target(new double[SIZE + end - to])
                                    .maxEvaluations(40)
                                    .maxIterations(40)
                                    .checker(
                                            (iteration, before, after) ->
                                                    before.getPoint()
                                                                    .getLInfDistance(
                                                                            after.getPoint())
                                                            < LITTLE)
                                    .build())
                    .getPoint()
                    .toArray();
        } catch (TooManyEvaluationsException | TooManyIterationsException e) {
            return center.clone();
        }
    }

    /**
     * Whether what was read after the gap is what the model has without heat. The first reading is
     * compared with what was known before it, and the room that all of them ask for with how far
     * the room may have gone.
     */
    private Reconstruction.After after(double[] z) {
        int row = SIZE;
        double deviations = 0;
        if (to < end && Double.isFinite(record.air(to))) {
            RealVector slope = new ArrayRealVector(slopes(center)[row], false);
            RealMatrix prior = MatrixUtils.inverse(root.transpose().multiply(root));
            double variance = 1 + slope.dotProduct(prior.operate(slope));
            deviations = -off(center)[row] / Math.sqrt(variance);
        }
        double odd = isRoomMeasured ? ODD_DEVIATIONS : WARM_DEVIATIONS;
        if (deviations > odd || z[ROOM] > roomKelvin) {
            return Reconstruction.After.WARMER;
        }
        if (deviations > WARM_DEVIATIONS) {
            return Reconstruction.After.RATHER_WARM;
        }
        return deviations < -ODD_DEVIATIONS || z[ROOM] < -roomKelvin
                ? Reconstruction.After.COLDER
                : Reconstruction.After.AS_WITHOUT_HEAT;
    }

    private Reconstruction reconstruction(double[] z, boolean withEdge) {
        RealMatrix known = root.transpose().multiply(root);
        if (withEdge) {
            RealMatrix slopes = new Array2DRowRealMatrix(slopes(z), false);
            known = slopes.transpose().multiply(slopes);
        }
        Reconstruction.Followed[] slopes = new Reconstruction.Followed[SIZE];
        for (int i = 0; i < SIZE; i++) {
            double[] beside = z.clone();
            beside[i] += LITTLE;
            Reconstruction.Followed above = follow(beside);
            beside[i] -= 2 * LITTLE;
            Reconstruction.Followed below = follow(beside);
            slopes[i] =
                    new Reconstruction.Followed(
                            slope(above.air, below.air),
                            slope(above.eggs, below.eggs),
                            slope(above.share, below.share));
        }
        return new Reconstruction(
                record.millis(from),
                follow(z),
                slopes,
                MatrixUtils.inverse(known),
                colderKelvin,
                warmerKelvin,
                ownKelvin,
                after(z));
    }

    private static double[] slope(double[] above, double[] below) {
        double[] slope = new double[above.length];
        for (int k = 0; k < slope.length; k++) {
            slope[k] = (above[k] - below[k]) / (2 * LITTLE);
        }
        return slope;
    }
}
