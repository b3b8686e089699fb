package io.evenwarm.agent.guard.health;

import java.util.Arrays;

/**
 * Which single cause explains the probes' deviations best: the fan (the top warmer, the bottom
 * colder, in proportion to their height), one probe alone, or two probes in each other's place.
 *
 * <p>A cause is taken only where it leaves clearly less unexplained than every other one.
 */
final class LayerCauses {

    enum Cause {
        NONE,
        FAN,
        PROBE,
        SWAP
    }

    /** The best cause must leave less than this share of what the next one leaves. */
    private static final double DECISIVE = 0.5;

    /** And less than this share of all. */
    private static final double EXPLAINS = 0.25;

    private final int count;
    private final double[] height;
    private final double[] centred;
    private Cause cause = Cause.NONE;
    private int probe;
    private int other;
    private double kelvin;
    private boolean isWithin;
    private boolean isOfTwo;

    /**
     * @param height of each probe: 1 top, 0 middle, −1 bottom, NaN where that is not known
     */
    LayerCauses(double[] height) {
        this.count = height.length;
        this.height = height.clone();
        this.centred = new double[count];
    }

    /**
     * Finds the cause.
     *
     * @param deviation of each probe, K; NaN for one that is not there
     * @param layering what is expected of each
     * @param heatShare now
     * @param leastKelvin deviations within this need no cause
     */
    void judge(double[] deviation, Layering layering, double heatShare, double leastKelvin) {
        cause = Cause.NONE;
        kelvin = 0;
        int present = centre(deviation);
        double all = 0;
        double largest = 0;
        for (int i = 0; i < count; i++) {
            if (!Double.isNaN(centred[i])) {
                all += centred[i] * centred[i];
                largest = Math.max(largest, Math.abs(centred[i]));
            }
        }
        isOfTwo = present == 2;
        isWithin = present >= 2 && largest < leastKelvin;
        if (present < 2 || isWithin) {
            return;
        }
        double best = Double.POSITIVE_INFINITY;
        double next = Double.POSITIVE_INFINITY;
        for (int i = 0; i < count; i++) {
            if (Double.isNaN(centred[i]) || present < 3) {
                continue;
            }
            double away = centred[i] * present / (present - 1);
            double left = all - away * centred[i];
            if (left < best) {
                next = best;
                best = left;
                set(Cause.PROBE, i, i, away);
            } else {
                next = Math.min(next, left);
            }
        }
        double fan = fanKelvin();
        double left = fan > 0 ? all - fan * fan * heightSquares() : Double.POSITIVE_INFINITY;
        if (left < best) {
            next = best;
            best = left;
            set(Cause.FAN, 0, 0, fan);
        } else {
            next = Math.min(next, left);
        }
        for (int i = 0; i < count; i++) {
            for (int j = i + 1; j < count; j++) {
                double apart = layering.expected(i, heatShare) - layering.expected(j, heatShare);
                if (Double.isNaN(centred[i] + centred[j]) || Math.abs(apart) < leastKelvin) {
                    continue;
                }
                left = swapLeft(all, i, j, apart);
                if (left < best) {
                    next = best;
                    best = left;
                    set(Cause.SWAP, i, j, Math.abs(apart));
                } else {
                    next = Math.min(next, left);
                }
            }
        }
        if (!(best < EXPLAINS * all && best < DECISIVE * next)) {
            cause = Cause.NONE;
        }
    }

    private void set(Cause newCause, int i, int j, double newKelvin) {
        cause = newCause;
        probe = i;
        other = j;
        kelvin = newKelvin;
    }

    private int centre(double[] deviation) {
        double sum = 0;
        int present = 0;
        for (double value : deviation) {
            if (!Double.isNaN(value)) {
                sum += value;
                present++;
            }
        }
        if (present == 0) {
            Arrays.fill(centred, Double.NaN);
            return 0;
        }
        for (int i = 0; i < count; i++) {
            centred[i] = deviation[i] - sum / present;
        }
        return present;
    }

    private double meanHeight() {
        double sum = 0;
        int present = 0;
        for (int i = 0; i < count; i++) {
            if (!Double.isNaN(centred[i]) && !Double.isNaN(height[i])) {
                sum += height[i];
                present++;
            }
        }
        return present == 0 ? 0 : sum / present;
    }

    private double heightSquares() {
        double mean = meanHeight();
        double squares = 0;
        for (int i = 0; i < count; i++) {
            if (!Double.isNaN(centred[i]) && !Double.isNaN(height[i])) {
                squares += (height[i] - mean) * (height[i] - mean);
            }
        }
        return squares;
    }

    /** By how much half a cabinet's height is warmer than it should be, K. */
    private double fanKelvin() {
        double mean = meanHeight();
        double squares = heightSquares();
        if (squares < 0.5) {
            return 0;
        }
        double product = 0;
        for (int i = 0; i < count; i++) {
            if (!Double.isNaN(centred[i]) && !Double.isNaN(height[i])) {
                product += centred[i] * (height[i] - mean);
            }
        }
        return product / squares;
    }

    /** If i and j were each other, i would read less by {@code apart} and j more. */
    private double swapLeft(double all, int i, int j, double apart) {
        double first = centred[i] + apart;
        double second = centred[j] - apart;
        return all
                - centred[i] * centred[i]
                - centred[j] * centred[j]
                + first * first
                + second * second;
    }

    Cause cause() {
        return cause;
    }

    /** Whether there is nothing to explain: two probes or more, each where it should be. */
    boolean isWithin() {
        return isWithin;
    }

    /** Whether there are two probes only, so that one that drifts may look like a swap. */
    boolean isOfTwo() {
        return isOfTwo;
    }

    /** The probe of a {@link Cause#PROBE}; the first of a {@link Cause#SWAP}. */
    int probe() {
        return probe;
    }

    /** The second of a {@link Cause#SWAP}. */
    int other() {
        return other;
    }

    /** How much, K: from the middle to the top, of the probe, or between the swapped. */
    double kelvin() {
        return kelvin;
    }
}
