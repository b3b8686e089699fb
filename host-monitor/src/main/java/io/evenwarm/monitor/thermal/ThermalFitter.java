package io.evenwarm.monitor.thermal;

import java.util.Arrays;
import java.util.Optional;
import java.util.OptionalDouble;
import org.apache.commons.math3.exception.TooManyEvaluationsException;
import org.apache.commons.math3.exception.TooManyIterationsException;
import org.apache.commons.math3.fitting.leastsquares.LeastSquaresBuilder;
import org.apache.commons.math3.fitting.leastsquares.LeastSquaresProblem;
import org.apache.commons.math3.fitting.leastsquares.LevenbergMarquardtOptimizer;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.linear.MatrixUtils;
import org.apache.commons.math3.linear.RealMatrix;
import org.apache.commons.math3.linear.RealVector;
import org.apache.commons.math3.util.Pair;

/**
 * Finds a cabinet's constants: least squares (Levenberg-Marquardt) over what {@link StateFilter}
 * foretold wrongly, with what is likely of any cabinet as further rows. The gains are those of the
 * constants found so far and taken anew {@value #ROUNDS} times.
 *
 * <p>Uncertainties are those of least squares and, where it is wider, of the "sandwich" with whole
 * days as clusters [1], which takes in that what was foretold wrongly is alike for hours.
 *
 * <p>[1] Cameron and Miller, "A practitioner's guide to cluster-robust inference", Journal of Human
 * Resources 50 (2015) 317, from memory.
 */
public final class ThermalFitter {

    static final int FULL_HEAT = 0;
    static final int FAN = 1;
    static final int AIR = 2;
    static final int WALL = 3;
    static final int EGG = 4;
    static final int EGG_LAG = 5;
    static final int STILL_WALL = 6;
    static final int STILL_EGG = 7;
    static final int SIZE = 8;

    private static final int ROUNDS = 3;
    private static final int DAYS_MIN = 2;

    /** Eggs and damp medium (docs/plant.md has the sources), J/kgK. */
    private static final double LOAD_JOULES_PER_KILOGRAM_KELVIN = 2950;

    /** How far a list of tubs and a stated power may be off together, as a logarithm. No source. */
    private static final double LOAD_DEVIATION = 0.25;

    /** A usual fan's heat, K above the room, and how far from it others are. No source. */
    private static final double FAN_KELVIN = 1.1;

    /** Little steps of each coordinate, for slopes. */
    private static final double STEP = 0.005;

    private static final double SETTLED = 1e-3;

    /** What any cabinet is like, and by how much cabinets differ: logarithms, but for the fan. */
    private final double[] likely = {
        Math.log(30),
        FAN_KELVIN,
        Math.log(1200),
        Math.log(6000),
        Math.log(15_000),
        Math.log(6000),
        Math.log(0.65),
        Math.log(0.8)
    };

    private final double[] spread = {2, 0.5, 0.7, 0.4, 0.7, 0.5, 0.15, 0.15};

    /**
     * What the record can't tell. It is fitted along, so that the loss is not led astray by masses
     * that are held where they are not; but what came out is an answer to the mains and no mass,
     * and what is likely of any cabinet is given out in its place.
     */
    private final boolean[] isUntold = new boolean[SIZE];

    private final Steps steps;
    private final StateFilter filter;
    private final int readings;
    private StateFilter.Gains gains;
    private double[] x;

    private ThermalFitter(Steps steps, double fullHeatKelvin, OptionalDouble eggSeconds) {
        this.steps = steps;
        Excitation shown = Excitation.of(steps);
        filter = new StateFilter(steps);
        readings = steps.size * (steps.hasTubProbe() ? 2 : 1);
        if (eggSeconds.isPresent()) {
            likely[EGG] = Math.log(eggSeconds.getAsDouble());
            spread[EGG] = LOAD_DEVIATION;
        }
        isUntold[AIR] = !shown.tellsMasses();
        isUntold[WALL] = !shown.tellsMasses();
        isUntold[EGG] = !shown.tellsMasses();
        isUntold[EGG_LAG] = !shown.tellsEggs();
        isUntold[STILL_WALL] = !shown.hasSeenCut();
        isUntold[STILL_EGG] = !shown.hasSeenCut();
        x = likely.clone();
        x[FULL_HEAT] = Math.log(fullHeatKelvin);
        gains = filter.run(constants(x));
    }

    /**
     * Fits a record.
     *
     * @return empty where there are not {@value #DAYS_MIN} days of air, room and heater to fit to
     */
    public static Optional<ThermalFit> fit(ThermalRecord record, ThermalFacts facts) {
        Steps steps = new Steps(record);
        OptionalDouble fullHeat = fullHeatKelvin(steps);
        if (fullHeat.isEmpty()) {
            return Optional.empty();
        }
        double kelvin = fullHeat.getAsDouble();
        OptionalDouble eggSeconds = OptionalDouble.empty();
        if (facts.loadKilograms().isPresent() && facts.watts().isPresent()) {
            eggSeconds =
                    OptionalDouble.of(
                            facts.loadKilograms().getAsDouble()
                                    * LOAD_JOULES_PER_KILOGRAM_KELVIN
                                    * kelvin
                                    / facts.watts().getAsDouble());
        }
        ThermalFitter fitter = new ThermalFitter(steps, kelvin, eggSeconds);
        fitter.solve();
        ThermalFit.HeldOut heldOut = HeldOutDays.of(record, kelvin, eggSeconds);
        return Optional.of(
                new Claims(Excitation.of(steps), facts, fitter.uncertainty()).fit(heldOut));
    }

    /** Constants from part of a record. */
    static NetworkConstants constantsOf(
            Steps steps, double fullHeatKelvin, OptionalDouble eggSeconds) {
        ThermalFitter fitter = new ThermalFitter(steps, fullHeatKelvin, eggSeconds);
        fitter.solve();
        return constants(fitter.told());
    }

    private double[] told() {
        double[] told = x.clone();
        for (int i = 0; i < SIZE; i++) {
            told[i] = isUntold[i] ? likely[i] : x[i];
        }
        return told;
    }

    /** What balances on the whole: mean rise over mean duty; empty where too little was seen. */
    private static OptionalDouble fullHeatKelvin(Steps steps) {
        double rise = 0;
        double duty = 0;
        int seen = 0;
        for (int k = 0; k < steps.size; k++) {
            if (steps.isOrdinary(k)) {
                rise += steps.air[k] - steps.room[k] - FAN_KELVIN;
                duty += steps.duty[k];
                seen++;
            }
        }
        boolean isEnough = seen >= DAYS_MIN * Steps.PER_DAY && rise > seen && duty > 0.01 * seen;
        return isEnough ? OptionalDouble.of(rise / duty) : OptionalDouble.empty();
    }

    static NetworkConstants constants(double[] x) {
        return new NetworkConstants(
                Math.exp(x[FULL_HEAT]),
                x[FAN],
                Math.exp(x[AIR]),
                Math.exp(x[WALL]),
                Math.exp(x[EGG]),
                Math.exp(x[EGG_LAG]),
                Math.exp(x[STILL_WALL]),
                Math.exp(x[STILL_EGG]));
    }

    private void solve() {
        for (int round = 0; round < ROUNDS; round++) {
            gains = filter.run(constants(x));
            x = leastSquares();
        }
        gains = filter.run(constants(x));
    }

    private double[] leastSquares() {
        LeastSquaresProblem problem =
                new LeastSquaresBuilder()
                        .start(x)
                        .model(this::rows)
                        .target(new double[readings + SIZE])
                        .maxEvaluations(60)
                        .maxIterations(60)
                        .checker(
                                (iteration, before, after) ->
                                        before.getPoint().getLInfDistance(after.getPoint())
                                                < SETTLED)
                        .build();
        try {
            return new LevenbergMarquardtOptimizer().optimize(problem).getPoint().toArray();
        } catch (TooManyEvaluationsException | TooManyIterationsException e) {
            // What was found so far is no worse than the start; its interval says how good it is.
            return x;
        }
    }

    private double[] off(double[] at) {
        double[] off = new double[readings + SIZE];
        filter.replay(constants(at), gains, off);
        for (int i = 0; i < SIZE; i++) {
            off[readings + i] = (at[i] - likely[i]) / spread[i];
        }
        return off;
    }

    private Pair<RealVector, RealMatrix> rows(RealVector point) {
        double[] at = point.toArray();
        double[][] slopes = new double[readings + SIZE][SIZE];
        for (int i = 0; i < SIZE; i++) {
            double[] beside = at.clone();
            beside[i] = at[i] + STEP;
            double[] above = off(beside);
            beside[i] = at[i] - STEP;
            double[] below = off(beside);
            for (int row = 0; row < slopes.length; row++) {
                slopes[row][i] = (above[row] - below[row]) / (2 * STEP);
            }
        }
        return new Pair<>(
                new ArrayRealVector(off(at), false), new Array2DRowRealMatrix(slopes, false));
    }

    private Uncertainty uncertainty() {
        Pair<RealVector, RealMatrix> rows = rows(new ArrayRealVector(x));
        RealMatrix slopes = rows.getSecond();
        RealMatrix plain = MatrixUtils.inverse(slopes.transpose().multiply(slopes));
        RealMatrix clustered = plain.multiply(scatter(rows.getFirst(), slopes)).multiply(plain);
        RealMatrix wider = plain.copy();
        double[] widening = new double[SIZE];
        for (int i = 0; i < SIZE; i++) {
            widening[i] = Math.sqrt(Math.max(1, clustered.getEntry(i, i) / plain.getEntry(i, i)));
        }
        for (int i = 0; i < SIZE; i++) {
            for (int j = 0; j < SIZE; j++) {
                wider.setEntry(i, j, plain.getEntry(i, j) * widening[i] * widening[j]);
            }
        }
        for (int i = 0; i < SIZE; i++) {
            if (isUntold[i]) {
                wider.setColumn(i, new double[SIZE]);
                wider.setRow(i, new double[SIZE]);
                wider.setEntry(i, i, spread[i] * spread[i]);
            }
        }
        return new Uncertainty(told(), wider);
    }

    /** Sum over the days of the products of what each day says, and what was likely beforehand. */
    private RealMatrix scatter(RealVector off, RealMatrix slopes) {
        RealMatrix sum = new Array2DRowRealMatrix(SIZE, SIZE);
        int days = (steps.size + Steps.PER_DAY - 1) / Steps.PER_DAY;
        double[] score = new double[SIZE];
        for (int day = 0; day < days; day++) {
            Arrays.fill(score, 0);
            int end = Math.min(steps.size, (day + 1) * Steps.PER_DAY);
            for (int from = 0; from < readings; from += steps.size) {
                for (int k = from + day * Steps.PER_DAY; k < from + end; k++) {
                    for (int i = 0; i < SIZE; i++) {
                        score[i] += slopes.getEntry(k, i) * off.getEntry(k);
                    }
                }
            }
            add(sum, score, days / (days - 1.0));
        }
        for (int row = readings; row < readings + SIZE; row++) {
            add(sum, slopes.getRow(row), 1);
        }
        return sum;
    }

    private static void add(RealMatrix sum, double[] score, double by) {
        for (int i = 0; i < SIZE; i++) {
            for (int j = 0; j < SIZE; j++) {
                sum.addToEntry(i, j, by * score[i] * score[j]);
            }
        }
    }
}
