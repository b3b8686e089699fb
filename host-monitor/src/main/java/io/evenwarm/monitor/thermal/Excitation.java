package io.evenwarm.monitor.thermal;

import java.util.Arrays;

/**
 * What a record holds that shows more than an even air does.
 *
 * @param hasTubProbe most of the time
 * @param hasNights stretches of two hours or more in which the air was lower than usual, on three
 *     days or more
 * @param hasCut two hours or more without fan and heater, or unseen, after which the air was colder
 * @param hasSeenCut such a cut of which the air was read
 */
record Excitation(boolean hasTubProbe, boolean hasNights, boolean hasCut, boolean hasSeenCut) {

    private static final int LONG_STEPS = 2 * 3600 / Steps.STEP_SECONDS;
    private static final double CUT_FALL_KELVIN = 1;
    private static final double DROP_KELVIN = 1;
    private static final int NIGHTS_MIN = 3;

    static Excitation of(Steps steps) {
        boolean hasCut = false;
        boolean hasSeenCut = false;
        int length = 0;
        int seen = 0;
        double before = Double.NaN;
        double last = Double.NaN;
        for (int k = 0; k < steps.size; k++) {
            boolean isThere = Double.isFinite(steps.air[k]);
            if (steps.isStill[k] || !isThere) {
                before = length == 0 ? last : before;
                length++;
                seen += isThere ? 1 : 0;
            } else {
                if (length >= LONG_STEPS && before - last(steps, k, last) > CUT_FALL_KELVIN) {
                    hasCut = true;
                    hasSeenCut |= seen > length / 2;
                }
                length = 0;
                seen = 0;
            }
            last = isThere ? steps.air[k] : last;
        }
        return new Excitation(steps.hasTubProbe(), hasNights(steps), hasCut, hasSeenCut);
    }

    /** The colder of the last reading within a cut and the first one after it. */
    private static double last(Steps steps, int after, double within) {
        return Double.isNaN(within) ? steps.air[after] : Math.min(within, steps.air[after]);
    }

    private static boolean hasNights(Steps steps) {
        double[] sorted = Arrays.stream(steps.air).filter(Double::isFinite).sorted().toArray();
        double low = sorted[sorted.length / 2] - DROP_KELVIN;
        int nights = 0;
        int length = 0;
        for (int k = 0; k < steps.size; k++) {
            length = steps.air[k] < low ? length + 1 : 0;
            nights += length == LONG_STEPS ? 1 : 0;
        }
        return nights >= NIGHTS_MIN;
    }

    /**
     * Whether the masses can be told apart at all; else they would be fitted to the mains. A tub's
     * probe says how slow the eggs are, and not how much heat they hold.
     */
    boolean tellsMasses() {
        return hasNights || hasSeenCut;
    }

    boolean tellsEggs() {
        return hasTubProbe || hasNights || hasCut;
    }
}
