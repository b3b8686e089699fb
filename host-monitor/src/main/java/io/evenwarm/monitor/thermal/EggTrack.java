package io.evenwarm.monitor.thermal;

import java.util.Arrays;
import org.apache.commons.math3.linear.RealMatrix;

/**
 * How warm the eggs are taken to have been, step by step, while a cabinet was read: an estimate, of
 * which a tub's probe measures a part at the most. The band holds the eggs of the coldest and of
 * the warmest shelf. Immutable.
 *
 * <p>The filter that holds the air to its readings gives the eggs and its own variance. What the
 * constants are off by is added from 2 n runs beside the one with the likely constants, at the
 * square root of n along each column of their covariance's root [1]: mean and spread of these are
 * those of what follows, to the second order. A shelf's eggs take to its air's difference with
 * their own lag.
 *
 * <p>[1] Julier and Uhlmann, "A new extension of the Kalman filter to nonlinear systems", 1997,
 * section 3, with a weight of 0 for the middle; from memory.
 */
public final class EggTrack {

    /** What the probes, and a shelf beside the probe that is nearest, are off by, K. No source. */
    private static final double OWN_KELVIN = 0.1;

    private static final double DEVIATIONS = 2;

    /** At its begin a record says little of eggs; after this their own lag has let it go. */
    private static final int SETTLING_STEPS = Steps.PER_DAY / 2;

    /** What is known no better than this, half a band, is no estimate, K. */
    private static final double KNOWN_KELVIN = 3;

    private final long[] millis;
    private final double[] likely;
    private final double[] low;
    private final double[] high;

    private EggTrack(long[] millis, double[] likely, double[] low, double[] high) {
        this.millis = millis;
        this.likely = likely;
        this.low = low;
        this.high = high;
    }

    /** Where there is no model. */
    public static EggTrack empty() {
        return new EggTrack(new long[0], new double[0], new double[0], new double[0]);
    }

    /**
     * Follows the eggs through a record.
     *
     * @param record twelve hours more than what is asked for: these are not known
     */
    public static EggTrack of(ThermalFit fit, ThermalRecord record) {
        Steps steps = new Steps(record);
        if (!Double.isFinite(Steps.firstOf(steps.air) + Steps.firstOf(steps.room))) {
            return empty();
        }
        StateFilter filter = StateFilter.following(steps);
        StateFilter.Gains run = filter.run(fit.constants());
        double[] variance = run.eggVariance.clone();
        addSpread(variance, filter, fit, run.eggCelsius);
        double kept = Math.exp(-Steps.STEP_SECONDS / fit.constants().eggLagSeconds());
        long[] millis = new long[steps.size];
        double[] low = new double[steps.size];
        double[] high = new double[steps.size];
        double colder = Double.NaN;
        double warmer = Double.NaN;
        for (int k = 0; k < steps.size; k++) {
            // Its cells' mean is of the step's middle, and so is the state.
            millis[k] = record.millis(k * Steps.CELLS) + Steps.STEP_SECONDS * 1000L / 2;
            colder = toward(colder, Steps.shelf(record, k, true), kept);
            warmer = toward(warmer, Steps.shelf(record, k, false), kept);
            double off = DEVIATIONS * Math.sqrt(variance[k] + OWN_KELVIN * OWN_KELVIN);
            if (k < SETTLING_STEPS || off > KNOWN_KELVIN || !Double.isFinite(steps.air[k])) {
                off = Double.NaN;
            }
            low[k] = run.eggCelsius[k] - orNone(colder) - off;
            high[k] = run.eggCelsius[k] + orNone(warmer) + off;
        }
        return new EggTrack(millis, run.eggCelsius, low, high);
    }

    private static double orNone(double kelvin) {
        return Double.isFinite(kelvin) ? kelvin : 0;
    }

    private static double toward(double before, double now, double kept) {
        if (!Double.isFinite(now)) {
            return before;
        }
        return Double.isFinite(before) ? kept * before + (1 - kept) * now : now;
    }

    private static void addSpread(
            double[] variance, StateFilter filter, ThermalFit fit, double[] middle) {
        int n = ThermalFitter.SIZE;
        RealMatrix root = fit.uncertainty().root();
        for (int column = 0; column < n; column++) {
            for (int sign = -1; sign <= 1; sign += 2) {
                double[] at = fit.uncertainty().at();
                for (int i = 0; i < n; i++) {
                    at[i] += sign * Math.sqrt(n) * root.getEntry(i, column);
                }
                double[] eggs = filter.run(ThermalFitter.constants(at)).eggCelsius;
                for (int k = 0; k < variance.length; k++) {
                    double off = eggs[k] - middle[k];
                    variance[k] += off * off / (2 * n);
                }
            }
        }
    }

    /** This, and after its end what another one has that goes on from it. */
    public EggTrack then(EggTrack later) {
        int from = 0;
        long end = millis.length == 0 ? Long.MIN_VALUE : millis[millis.length - 1];
        while (from < later.size() && later.millis[from] <= end) {
            from++;
        }
        return new EggTrack(
                joined(millis, later.millis, from),
                joined(likely, later.likely, from),
                joined(low, later.low, from),
                joined(high, later.high, from));
    }

    private static long[] joined(long[] one, long[] other, int from) {
        long[] both = Arrays.copyOf(one, one.length + other.length - from);
        System.arraycopy(other, from, both, one.length, other.length - from);
        return both;
    }

    private static double[] joined(double[] one, double[] other, int from) {
        double[] both = Arrays.copyOf(one, one.length + other.length - from);
        System.arraycopy(other, from, both, one.length, other.length - from);
        return both;
    }

    public int size() {
        return millis.length;
    }

    /** Milliseconds since the epoch. */
    public long epochMillis(int index) {
        return millis[index];
    }

    /**
     * Whether the eggs are known there: not in the first twelve hours of a record, not while
     * nothing was read, and not after a gap until the readings tell of them again.
     */
    public boolean isKnown(int index) {
        return Double.isFinite(low[index] + high[index]);
    }

    /**
     * Mean of all eggs, and where the coldest and the warmest shelf's lie in 19 of 20 cases, °C.
     *
     * @throws IllegalArgumentException where they are not known
     */
    public Span celsius(int index) {
        if (!isKnown(index)) {
            throw new IllegalArgumentException("nothing is known of step " + index);
        }
        double middle = likely[index];
        return new Span(Math.min(low[index], middle), middle, Math.max(high[index], middle));
    }
}
