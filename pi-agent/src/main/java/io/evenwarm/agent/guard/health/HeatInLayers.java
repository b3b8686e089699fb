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

    /**
     * What else moves the layers within days, such as tubs that are exchanged, K: in 40 sound
     * catalogue terms with weather they were at most 0.0051 K short of the line.
     */
    private static final double LEAST_MISSING_KELVIN = 0.006;

    /** Of what is missing if the power is what the relay's cycle says. */
    private static final double BORNE_OUT_SHARE = 0.3;

    /** With so much missing the layers tell the power by themselves, K. */
    private static final double CLEARLY_MISSING_KELVIN = 0.01;

    /** Half the gap says the same from block to block in more than this share of them: it rests. */
    private static final double RESTING_SHARE = 0.55;

    /**
     * More than rounding makes of half a gap between two probes that rest, each of which may be off
     * by half a step of 0.0625 K, K. In the one sound catalogue term of 500 in which that showed it
     * came to 0.034 K.
     */
    private static final double RESTING_MISSING_KELVIN = 0.04;

    /** What both say is so much less that rounding would have to deceive both alike. */
    private static final double HALVED_SHARE = 0.7;

    private static final double AGREED_SHARE = 0.1;

    /** Where a probe in the air has been silent or set aside for so long, they say nothing. */
    private static final int SILENT_BLOCKS = 360;

    /** With less heat nothing is told from its proportion. */
    private static final double LEAST_SHARE = 0.005;

    private final Lag heat = new Lag(LASTING_SECONDS);
    private final Lag gap = new Lag(LASTING_SECONDS);
    private Lag lateHeat = new Lag(MEMORY_SECONDS);
    private Lag lateGap = new Lag(MEMORY_SECONDS);
    private final Lag resting = new Lag(MEMORY_SECONDS);
    private double lastKelvin = Double.NaN;
    private int silentBlocks;
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
            silentBlocks = Math.min(silentBlocks + 1, SILENT_BLOCKS);
            return;
        }
        silentBlocks = 0;
        double share = heat.step(heatShare);
        double kelvin = gap.step(halfGapKelvin);
        resting.step(halfGapKelvin == lastKelvin ? 1 : 0);
        lastKelvin = halfGapKelvin;
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
     * Whether the layers say the same as the relay's cycle, as far as they say anything: that heat
     * is missing, and at least a part of what would be if the power were what the cycle says.
     *
     * @param powerShare of the heater, as the relay's cycle has it, 0 to 1
     */
    boolean isBorneOut(double powerShare) {
        if (seen == 0 && learned == 0) {
            // No probe at the top or none at the bottom: nothing speaks against it.
            return true;
        }
        if (!isTelling()) {
            return false;
        }
        double missing = missingKelvin();
        return missing > LEAST_MISSING_KELVIN
                && missing > BORNE_OUT_SHARE * (1 - powerShare) * fullKelvin()
                && isMoreThanRounding(powerShare);
    }

    /**
     * Whether the layers alone say that the power is below a share of what it was: the part of it
     * that the gap shows is known better than the answer to the relay's cycle.
     *
     * @param weakShare the share in question, 0 to 1
     * @param powerShare of the heater, as the relay's cycle has it, 0 to 1
     */
    boolean isBelow(double weakShare, double powerShare) {
        return isTelling()
                && missingKelvin() > CLEARLY_MISSING_KELVIN
                && shareInLayers() < weakShare
                && isMoreThanRounding(powerShare);
    }

    /**
     * What a probe in the air said before it was set aside may be what it was set aside for: then
     * the layers tell nothing until they are seen again.
     */
    private boolean isTelling() {
        return learned >= LINE_BLOCKS && silentBlocks < SILENT_BLOCKS;
    }

    /**
     * Two probes that rest on one step each for hours tell their gap no better than by half a step.
     */
    private boolean isMoreThanRounding(double powerShare) {
        double inLayers = shareInLayers();
        return resting.value() < RESTING_SHARE
                || missingKelvin() > RESTING_MISSING_KELVIN
                || (inLayers < HALVED_SHARE && Math.abs(inLayers - powerShare) < AGREED_SHARE);
    }

    /** By what half the gap is short of what the commanded heat would make, K. */
    private double missingKelvin() {
        double share = lateHeat.value();
        double online = meanKelvin + slopeKelvin() * (share - meanShare);
        // Where the line was learned from heat that hardly varied it is too level, and tells too
        // much at less heat: but no less than in proportion to the heat, because at no heat the top
        // is not the colder one.
        double expected = share < meanShare ? Math.min(online, fromZeroKelvin() * share) : online;
        return expected - lateGap.value();
    }

    /** What of half the gap the heat that is commanded makes at full power, K. */
    private double fullKelvin() {
        return slopeKelvin() * lateHeat.value();
    }

    /** The power by what is missing, as a share of what it was. */
    private double shareInLayers() {
        return 1 - missingKelvin() / Math.max(fullKelvin(), LEAST_SHARE * LEAST_SLOPE_KELVIN);
    }

    private double fromZeroKelvin() {
        return meanKelvin / Math.max(meanShare, LEAST_SHARE);
    }

    /** How much farther half the gap opens at full heat, K. */
    private double slopeKelvin() {
        double held = Math.max(0, Math.min(LEAST_SLOPE_KELVIN, fromZeroKelvin() / 2));
        return Math.max(held, (products + held * RIDGE) / (squares + RIDGE));
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
        resting.set(rows.numberIfKept("resting", resting.value(), 0));
        seen = rows.isReading() ? 0 : seen;
    }
}
