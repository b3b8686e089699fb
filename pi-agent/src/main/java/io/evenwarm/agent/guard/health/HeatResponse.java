package io.evenwarm.agent.guard.health;

/**
 * How much warmer this cabinet's air gets per share of heat, and how long that takes: learned from
 * the relay's own cycle, which shows in the air of every cabinet.
 *
 * <p>The air is taken as {@code level + k q}, where q is the commanded share of heat behind two
 * lags, the probes' and the heater's, and the level moves slowly. Both sides are taken without what
 * is slower than {@value #WASHOUT_SECONDS} s, and k is the least-squares slope between them, with
 * what is old forgotten over {@value #MEMORY_SECONDS} s. The heater's lag is the one of {@link
 * #HEATER_LAGS_SECONDS} that leaves least unexplained.
 */
final class HeatResponse {

    /** From a cartridge in a draught to a slow mat. */
    private static final double[] HEATER_LAGS_SECONDS = {60, 130, 250, 450};

    /** A thermometer in a steel tube in moving air. */
    static final double PROBE_LAG_SECONDS = 30;

    static final double WASHOUT_SECONDS = 300;
    static final double MEMORY_SECONDS = 43_200;

    /** In the first hour, how much heat was given before the start still shows. */
    private static final int FIRST_BLOCKS = 360;

    /** The first hour of learning is not believed. */
    private static final double LEAST_BLOCKS = 360;

    /** The heat must explain at least this share of what the air does. */
    private static final double LEAST_EXPLAINED = 0.1;

    /** The rounding of a DS18B20 leaves this much of the mean of three. */
    private static final double LEAST_SCATTER_KELVIN = 0.015;

    /** Air that moves by more than four standard deviations is moved by something else. */
    private static final double MOST_SQUARES = 16;

    private static final double KEEPS = 1 - BlockMeans.SECONDS / MEMORY_SECONDS;

    /** A choice among the lags is made this often. */
    private static final int BLOCKS_BETWEEN_CHOICES = 90;

    private static final double LONG_KEEPS = 1 - BlockMeans.SECONDS / (4 * MEMORY_SECONDS);
    private static final int COMPARABLE = 2;

    /** A heater that hardly ever works shows too little of itself to be compared. */
    private static final double LEAST_USUAL_SHARE = 0.015;

    /** No heat of before shows after so many blocks without. */
    private static final int MOST_PASSED_BLOCKS = 720;

    /** What heat does not explain keeps its direction for about this many blocks. */
    private static final double BLOCKS_ALIKE = 6;

    private final int count = HEATER_LAGS_SECONDS.length;
    private final Lag behindProbe = new Lag(PROBE_LAG_SECONDS);
    private final Lag[] heat = new Lag[count];
    private final Lag[] slowHeat = new Lag[count];
    private final Lag slowAir = new Lag(WASHOUT_SECONDS);
    private final double[] heatHeat = new double[count];
    private final double[] heatAir = new double[count];
    private final Lag usualShare = new Lag(MEMORY_SECONDS);
    private double longHeatHeat;
    private double longHeatAir;
    private double airAir;
    private double blocks;
    private long seen;
    private int settled;
    private int chosen = -1;
    private double kelvin;
    private double scatterKelvin;

    HeatResponse() {
        for (int i = 0; i < count; i++) {
            heat[i] = new Lag(HEATER_LAGS_SECONDS[i]);
            slowHeat[i] = new Lag(WASHOUT_SECONDS);
        }
    }

    /**
     * Takes a block in.
     *
     * @param heatShare commanded, 0 to 1
     * @param celsius of the air
     * @param isSound whether nothing but the heater moves the air, as far as one can tell: only
     *     then is something learned
     * @return whether another lag was chosen, so that what was built on the old one is void
     */
    boolean take(double heatShare, double celsius, boolean isSound, boolean isNear) {
        double delayed = behindProbe.step(heatShare);
        usualShare.step(heatShare);
        boolean isFirst = seen++ == 0;
        double air = isFirst ? 0 : celsius - slowAir.value();
        slowAir.step(celsius);
        // Nothing is known of the first hour's heat, nor learned from the end of a long one at full
        // power.
        settled = isNear || chosen >= 0 ? Math.min(settled + 1, FIRST_BLOCKS + 1) : 0;
        boolean isLesson =
                isSound
                        && isNear
                        && settled > FIRST_BLOCKS
                        && (chosen < 0 || air * air * blocks < MOST_SQUARES * airAir);
        for (int i = 0; i < count; i++) {
            double lagged = heat[i].step(delayed);
            double fast = isFirst ? 0 : lagged - slowHeat[i].value();
            slowHeat[i].step(lagged);
            if (isLesson) {
                if (i == COMPARABLE) {
                    longHeatHeat = longHeatHeat * LONG_KEEPS + fast * fast;
                    longHeatAir = longHeatAir * LONG_KEEPS + fast * air;
                }
                heatHeat[i] = heatHeat[i] * KEEPS + fast * fast;
                heatAir[i] = heatAir[i] * KEEPS + fast * air;
            }
        }
        if (!isLesson) {
            return false;
        }
        airAir = airAir * KEEPS + air * air;
        blocks = blocks * KEEPS + 1;
        return blocks >= LEAST_BLOCKS && seen % BLOCKS_BETWEEN_CHOICES == 0 && choose();
    }

    /**
     * Lets a time pass without heat that nobody saw the air of: nothing is learned, but what heat
     * was given before goes on to reach the air, and fades.
     *
     * @param seconds how long it was
     */
    void passWithoutHeat(double seconds) {
        long passed = Math.min(MOST_PASSED_BLOCKS, Math.round(seconds / BlockMeans.SECONDS));
        for (long block = 0; block < passed; block++) {
            double delayed = behindProbe.step(0);
            for (int i = 0; i < count; i++) {
                slowHeat[i].step(heat[i].step(delayed));
            }
        }
    }

    private boolean choose() {
        int best = -1;
        double left = (1 - LEAST_EXPLAINED) * airAir;
        for (int i = 0; i < count; i++) {
            if (heatAir[i] > 0) {
                double unexplained = airAir - heatAir[i] * heatAir[i] / heatHeat[i];
                if (unexplained < left) {
                    left = unexplained;
                    best = i;
                }
            }
        }
        if (best < 0) {
            // No heat for hours, or none that shows: what was learned before stands.
            return false;
        }
        kelvin = heatAir[best] / heatHeat[best];
        scatterKelvin = Math.max(LEAST_SCATTER_KELVIN, Math.sqrt(left / blocks));
        boolean isOther = best != chosen;
        chosen = best;
        return isOther;
    }

    /** Whether enough was seen to say anything. */
    boolean isLearned() {
        return chosen >= 0;
    }

    /** k: how much warmer the air would soon be at full power than without, K; above 0. */
    double kelvin() {
        return kelvin;
    }

    /**
     * The same for one fixed lag and over two days, to be compared over weeks whatever lag was
     * chosen meanwhile; NaN while there was no heat to learn from.
     */
    double comparableKelvin() {
        return longHeatAir > 0 && usualShare.value() > LEAST_USUAL_SHARE
                ? longHeatAir / longHeatHeat
                : Double.NaN;
    }

    /** Its standard error, K: large where there was little heat. */
    double comparableErrorKelvin() {
        return longHeatHeat > 0
                ? scatterKelvin * Math.sqrt(BLOCKS_ALIKE / longHeatHeat)
                : Double.POSITIVE_INFINITY;
    }

    /** What of the air's fast movement heat does not explain: standard deviation, K. */
    double scatterKelvin() {
        return scatterKelvin;
    }

    /** The heater's lag, s. */
    double lagSeconds() {
        return HEATER_LAGS_SECONDS[chosen < 0 ? COMPARABLE : chosen];
    }

    /** Share of heat commanded, behind the probes' lag, 0 to 1. */
    double delayedShare() {
        return behindProbe.value();
    }

    /** q: share of heat that reaches the air, 0 to 1. */
    double share() {
        return heat[chosen < 0 ? COMPARABLE : chosen].value();
    }

    /** What is kept through a restart. What heat comes just now is not. */
    void learned(LearnedRows rows) {
        rows.numbers("heat-heat", heatHeat);
        rows.numbers("heat-air", heatAir);
        usualShare.learned("usual-share", rows);
        longHeatHeat = rows.number("long-heat-heat", longHeatHeat);
        longHeatAir = rows.number("long-heat-air", longHeatAir);
        airAir = rows.number("air-air", airAir);
        blocks = rows.number("blocks", blocks);
        chosen = rows.count("chosen", chosen, -1, count - 1);
        kelvin = rows.number("kelvin", kelvin);
        scatterKelvin = rows.number("scatter", scatterKelvin);
    }
}
