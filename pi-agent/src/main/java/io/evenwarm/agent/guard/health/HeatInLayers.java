package io.evenwarm.agent.guard.health;

/**
 * Whether the layers bear out that less heat comes than is commanded. Heat that really comes drives
 * top and bottom apart along a line, whatever the weather asks for; a weak heater is commanded more
 * for the same heat, so that they stay behind that line.
 *
 * <p>Why this is asked beside the answer of the air to the relay's cycle: where that answer is much
 * smaller than a thermometer's step, what rounding leaves of it goes with where each probe happens
 * to stand between two steps, and so with the weather. Noise of standard deviation s dithers steps
 * of width w so that a small swing comes through with a gain of {@code 1 - 2 exp(-2 π² s²/w²) cos(2
 * π x/w)}, x being the distance from the middle of a step (the first term of the Fourier series;
 * derived, no source): 0.57 to 1.43 at s = 0.28 w. The gap between top and bottom is many times
 * larger, and its means of half an hour keep to their line.
 */
final class HeatInLayers {

    private static final double LASTING_SECONDS = 1800;

    /** Means of half an hour begin with what their first block happened to be. */
    private static final int SETTLED_BLOCKS = 720;

    /** The line is that of the first 16 h, which a weather of days hardly moves along. */
    private static final int LINE_BLOCKS = 16 * 360;

    private static final double MEMORY_SECONDS = 12 * 3600;

    /** Means of half an hour are as good as independent after an hour. */
    private static final double BLOCKS_ALIKE = 360;

    /**
     * Before heat has varied: how much farther half the gap opens at full heat at least, K. Of 40
     * sound catalogue cabinets in weather none showed less.
     */
    private static final double LEAST_SLOPE_KELVIN = 0.3;

    /** Holds the line to that slope where the heat has not varied, share² times blocks. */
    private static final double RIDGE = BLOCKS_ALIKE * 0.02 * 0.02;

    /** What else moves the layers within days, such as tubs that are exchanged, K. */
    private static final double LEAST_MISSING_KELVIN = 0.01;

    /** Of what is missing if the power is what the relay's cycle says. */
    private static final double BORNE_OUT_SHARE = 0.3;

    /** With less heat nothing is told from its proportion. */
    private static final double LEAST_SHARE = 0.005;

    private final Lag heat = new Lag(LASTING_SECONDS);
    private final Lag gap = new Lag(LASTING_SECONDS);
    private Lag lateHeat = new Lag(MEMORY_SECONDS);
    private Lag lateGap = new Lag(MEMORY_SECONDS);
    private int seen;
    private int learned;
    private double meanShare;
    private double meanKelvin;
    private double squares;
    private double products;

    /** Learns its line anew: another heater was put in. */
    void restart() {
        learned = 0;
        meanShare = 0;
        meanKelvin = 0;
        squares = 0;
        products = 0;
        lateHeat = new Lag(MEMORY_SECONDS);
        lateGap = new Lag(MEMORY_SECONDS);
    }

    /**
     * Takes a block in, while all is sound.
     *
     * @param heatShare commanded, 0 to 1
     * @param halfGapKelvin half of what the top is warmer than the bottom, K; NaN when not all
     *     probes in the air tell
     */
    void take(double heatShare, double halfGapKelvin) {
        if (Double.isNaN(halfGapKelvin)) {
            return;
        }
        double share = heat.step(heatShare);
        double kelvin = gap.step(halfGapKelvin);
        seen++;
        if (seen <= SETTLED_BLOCKS) {
            return;
        }
        if (learned < LINE_BLOCKS) {
            learned++;
            double away = share - meanShare;
            meanShare += away / learned;
            meanKelvin += (kelvin - meanKelvin) / learned;
            squares += away * (share - meanShare);
            products += away * (kelvin - meanKelvin);
            return;
        }
        lateHeat.step(share);
        lateGap.step(kelvin);
    }

    /**
     * Whether the layers say the same as the relay's cycle, as far as they say anything.
     *
     * @param powerShare of the heater, as the relay's cycle has it, 0 to 1
     */
    boolean isBorneOut(double powerShare) {
        if (seen == 0 && learned == 0) {
            // No probe at the top or none at the bottom: nothing speaks against it.
            return true;
        }
        if (learned < LINE_BLOCKS) {
            return false;
        }
        double share = lateHeat.value();
        double fromZero = meanKelvin / Math.max(meanShare, LEAST_SHARE);
        double held = Math.max(0, Math.min(LEAST_SLOPE_KELVIN, fromZero / 2));
        double slope = (products + held * RIDGE) / (squares + RIDGE);
        double online = meanKelvin + slope * (share - meanShare);
        // Where the line was learned from heat that hardly varied it is too level, and tells too
        // much at less heat: but no less than in proportion to the heat, because at no heat the top
        // is not the colder one.
        double expected = share < meanShare ? Math.min(online, fromZero * share) : online;
        double missing = expected - lateGap.value();
        return missing > LEAST_MISSING_KELVIN
                && missing > BORNE_OUT_SHARE * (1 - powerShare) * slope * share;
    }

    /** What is kept through a restart. Its means of half an hour begin anew. */
    void learned(LearnedRows rows) {
        learned = rows.count("learned", learned, 0, LINE_BLOCKS);
        meanShare = rows.number("mean-share", meanShare);
        meanKelvin = rows.number("mean-kelvin", meanKelvin);
        squares = rows.number("squares", squares);
        products = rows.number("products", products);
        lateHeat.learned("late-heat", rows);
        lateGap.learned("late-gap", rows);
        seen = rows.isReading() ? 0 : seen;
    }
}
