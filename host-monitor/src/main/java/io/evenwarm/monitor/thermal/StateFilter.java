package io.evenwarm.monitor.thermal;

import java.util.Arrays;

/**
 * Follows what can't be seen (walls, eggs, how much the heater's power is off, the room between its
 * readings) from what can: a Kalman filter over {@link Network}, with six states: air, wall, eggs,
 * the heater's relative departure from its usual power, the room, and the constant by which a tub's
 * probe differs from the eggs' mean.
 *
 * <p>A reading of the air counts with a deviation far above its noise, so that the filter trusts
 * the model over hours and is not led by what happens within minutes, of which a lumped model knows
 * little. A reading that does not fit at all (an open door) is left out and the air's uncertainty
 * raised. Exchanged tubs and times unseen make the eggs uncertain again.
 *
 * <p>[1] Åström, "Introduction to Stochastic Control Theory" (1970), chapter 7; prediction errors
 * with a given gain: Ljung, "System Identification" (1999), section 4.3. From memory of both.
 */
final class StateFilter {

    static final int STATES = 6;
    static final int DEPARTURE = 3;
    static final int ROOM = 4;
    static final int TUB_OFFSET = 5;

    private static final double[] NONE = {};

    private static final double STEP = Steps.STEP_SECONDS;

    /** Mains go up and down within hours by more than within days. No source. */
    private static final double DEPARTURE_MEMORY_SECONDS = 6 * 3600;

    private static final double DEPARTURE_DEVIATION = 0.015;

    /** How far a room goes within an hour, K. No source. */
    private static final double ROOM_WALK_KELVIN = 0.3;

    private static final double ROOM_READING_KELVIN = 0.03;
    private static final double TUB_READING_KELVIN = 0.1;

    /** What a step of the air and of the walls is off by, K. */
    private static final double STEP_KELVIN = 0.04;

    /** The same while nobody knows what the cabinet does. */
    private static final double STILL_STEP_KELVIN = 0.2;

    private static final double EGG_STEP_KELVIN = 0.001;
    private static final double ODD_DEVIATIONS = 5;

    /** How far exchanged tubs are from the others, K. */
    private static final double RELOADED_KELVIN = 2;

    private static final double UNSEEN_KELVIN_PER_HOUR = 0.5;
    private static final double UNSEEN_KELVIN_MAX = 5;
    private static final int UNSEEN_STEPS = 2;

    /** Near a probe's error: for what is now, readings go before the model. */
    private static final double FOLLOWED_READING_KELVIN = 0.15;

    /** By so much a step may be off where heater or fan may have failed without a word, K. */
    private static final double FOLLOWED_STEP_KELVIN = 0.3;

    private final Steps steps;
    private final double airReadingKelvin;
    private final double airStepKelvin;

    StateFilter(Steps steps) {
        // A tub's probe holds the eggs, so that the air's faster part tells of the tubs too.
        this(steps, steps.hasTubProbe() ? 0.5 : 1, STEP_KELVIN);
    }

    private StateFilter(Steps steps, double airReadingKelvin, double airStepKelvin) {
        this.steps = steps;
        this.airReadingKelvin = airReadingKelvin;
        this.airStepKelvin = airStepKelvin;
    }

    /**
     * One that holds the air to its readings: walls and eggs then follow what was read, also while
     * the heater does something else than it is told.
     */
    static StateFilter following(Steps steps) {
        return new StateFilter(steps, FOLLOWED_READING_KELVIN, FOLLOWED_STEP_KELVIN);
    }

    /**
     * What a run leaves: how much each reading moves the states, and how far readings may be off.
     */
    static final class Gains {
        final double[][] ofRoom;
        final double[][] ofAir;
        final double[][] ofTub;

        /** Deviation of what was predicted, K; 0 where the reading says nothing of the model. */
        final double[] airDeviation;

        final double[] tubDeviation;

        /** The eggs after each step, °C. */
        final double[] eggCelsius;

        /** How far off that may be where the constants are right, K². */
        final double[] eggVariance;

        /** The power that departures are relative to, K. */
        final double powerKelvin;

        double[] mean = new double[STATES];
        double[][] covariance = new double[STATES][STATES];

        private Gains(int size, double powerKelvin) {
            ofRoom = new double[size][];
            ofAir = new double[size][];
            ofTub = new double[size][];
            Arrays.fill(ofRoom, NONE);
            Arrays.fill(ofAir, NONE);
            Arrays.fill(ofTub, NONE);
            airDeviation = new double[size];
            tubDeviation = new double[size];
            eggCelsius = new double[size];
            eggVariance = new double[size];
            this.powerKelvin = powerKelvin;
        }
    }

    private double[] start() {
        double air = Steps.firstOf(steps.air);
        double room = Steps.firstOf(steps.room);
        return new double[] {air, air, air, 0, room, 0};
    }

    /** Runs over all steps. */
    Gains run(NetworkConstants of) {
        return new Run(of).gains;
    }

    /** One run with its uncertainties. */
    private final class Run {

        private final NetworkConstants of;
        private final Gains gains;
        private final Network fanOn;
        private final Network still;
        private final double[] x = start();
        private final double[][] p = new double[STATES][STATES];
        private final double[][] f = new double[STATES][STATES];
        private final double departureKept = Math.exp(-STEP / DEPARTURE_MEMORY_SECONDS);
        private int unseen;

        Run(NetworkConstants of) {
            this.of = of;
            gains = new Gains(steps.size, of.fullHeatKelvin());
            fanOn = new Network(of, true, STEP);
            still = new Network(of, false, STEP);
            double[] deviations = {1, 2, 2, DEPARTURE_DEVIATION, 1, 0.5};
            for (int i = 0; i < STATES; i++) {
                p[i][i] = deviations[i] * deviations[i];
            }
            for (int k = 0; k < steps.size; k++) {
                if (k > 0) {
                    predict(k);
                }
                read(k);
                gains.eggCelsius[k] = x[Network.EGG];
                gains.eggVariance[k] = p[Network.EGG][Network.EGG];
            }
            gains.mean = x;
            gains.covariance = p;
        }

        private void predict(int k) {
            boolean isStill = steps.isStill[k - 1] || steps.isStill[k];
            Network network = isStill ? still : fanOn;
            double heat = (steps.heat[k - 1] + steps.heat[k]) / 2 * of.fullHeatKelvin();
            double power = heat * (1 + x[DEPARTURE]) + (isStill ? 0 : of.fanKelvin());
            network.advance(x, x[ROOM], power + missing(k, network, power));
            x[DEPARTURE] *= departureKept;
            for (int i = 0; i < Network.MASSES; i++) {
                for (int j = 0; j < Network.MASSES; j++) {
                    f[i][j] = network.share(i, j);
                }
                f[i][DEPARTURE] = network.share(i, Network.POWER) * heat;
                f[i][ROOM] = network.share(i, Network.ROOM);
            }
            f[DEPARTURE][DEPARTURE] = departureKept;
            f[ROOM][ROOM] = 1;
            f[TUB_OFFSET][TUB_OFFSET] = 1;
            spread();
            widen(k, isStill);
        }

        /** What the power must be more, for the air to get where it was read, K; 0 in a fit. */
        private double missing(int k, Network network, double power) {
            if (airStepKelvin == STEP_KELVIN || !Double.isFinite(steps.air[k])) {
                return 0;
            }
            double[] there = x.clone();
            network.advance(there, x[ROOM], power);
            return (steps.air[k] - there[Network.AIR]) / network.share(Network.AIR, Network.POWER);
        }

        /** p = f p f'. */
        private void spread() {
            double[][] half = new double[STATES][STATES];
            for (int i = 0; i < STATES; i++) {
                for (int k = 0; k < STATES; k++) {
                    double share = f[i][k];
                    if (share != 0) {
                        for (int j = 0; j < STATES; j++) {
                            half[i][j] += share * p[k][j];
                        }
                    }
                }
            }
            for (int i = 0; i < STATES; i++) {
                for (int j = 0; j <= i; j++) {
                    double sum = 0;
                    for (int k = 0; k < STATES; k++) {
                        sum += half[i][k] * f[j][k];
                    }
                    p[i][j] = sum;
                    p[j][i] = sum;
                }
            }
        }

        private void widen(int k, boolean isStill) {
            double step = isStill ? STILL_STEP_KELVIN : STEP_KELVIN;
            double airStep = Math.max(step, airStepKelvin);
            p[Network.AIR][Network.AIR] += airStep * airStep;
            p[Network.WALL][Network.WALL] += step * step;
            p[Network.EGG][Network.EGG] += EGG_STEP_KELVIN * EGG_STEP_KELVIN;
            p[DEPARTURE][DEPARTURE] +=
                    DEPARTURE_DEVIATION * DEPARTURE_DEVIATION * (1 - departureKept * departureKept);
            p[ROOM][ROOM] += ROOM_WALK_KELVIN * ROOM_WALK_KELVIN * STEP / 3600;
            if (steps.isReloading[k]) {
                double reloaded = RELOADED_KELVIN * RELOADED_KELVIN;
                p[Network.AIR][Network.AIR] += reloaded;
                p[Network.WALL][Network.WALL] += reloaded / 20;
                p[Network.EGG][Network.EGG] += reloaded;
            }
            if (!Double.isFinite(steps.air[k])) {
                unseen++;
            } else {
                if (unseen > UNSEEN_STEPS) {
                    double fall =
                            Math.min(
                                    UNSEEN_KELVIN_MAX,
                                    UNSEEN_KELVIN_PER_HOUR * unseen * STEP / 3600);
                    p[Network.AIR][Network.AIR] += fall * fall;
                    p[Network.WALL][Network.WALL] += fall * fall;
                    p[Network.EGG][Network.EGG] += fall * fall;
                }
                unseen = 0;
            }
        }

        private void read(int k) {
            if (Double.isFinite(steps.room[k])) {
                gains.ofRoom[k] = take(ROOM, -1, steps.room[k] - x[ROOM], ROOM_READING_KELVIN);
            }
            if (Double.isFinite(steps.air[k])) {
                double error = steps.air[k] - x[Network.AIR];
                double deviation =
                        Math.sqrt(
                                p[Network.AIR][Network.AIR] + airReadingKelvin * airReadingKelvin);
                if (steps.isReloading[k] || Math.abs(error) <= ODD_DEVIATIONS * deviation) {
                    gains.airDeviation[k] = steps.isReloading[k] ? 0 : deviation;
                    gains.ofAir[k] = take(Network.AIR, -1, error, airReadingKelvin);
                } else {
                    p[Network.AIR][Network.AIR] += error * error / 25;
                    p[Network.WALL][Network.WALL] += error * error / 1000;
                }
            }
            if (Double.isFinite(steps.tub[k])) {
                double error = steps.tub[k] - x[Network.EGG] - x[TUB_OFFSET];
                double deviation =
                        Math.sqrt(
                                p[Network.EGG][Network.EGG]
                                        + 2 * p[Network.EGG][TUB_OFFSET]
                                        + p[TUB_OFFSET][TUB_OFFSET]
                                        + TUB_READING_KELVIN * TUB_READING_KELVIN);
                boolean tells =
                        !steps.isReloading[k] && Math.abs(error) <= ODD_DEVIATIONS * deviation;
                gains.tubDeviation[k] = tells ? deviation : 0;
                gains.ofTub[k] = take(Network.EGG, TUB_OFFSET, error, TUB_READING_KELVIN);
            }
        }

        /** Moves all states by a reading of one state, or of the sum of two. */
        private double[] take(int state, int andState, double error, double readingKelvin) {
            double[] shared = new double[STATES];
            for (int i = 0; i < STATES; i++) {
                shared[i] = p[i][state] + (andState < 0 ? 0 : p[i][andState]);
            }
            double variance =
                    shared[state]
                            + (andState < 0 ? 0 : shared[andState])
                            + readingKelvin * readingKelvin;
            double[] gain = new double[STATES];
            for (int i = 0; i < STATES; i++) {
                gain[i] = shared[i] / variance;
                x[i] += gain[i] * error;
            }
            for (int i = 0; i < STATES; i++) {
                for (int j = 0; j <= i; j++) {
                    p[i][j] -= gain[i] * shared[j];
                    p[j][i] = p[i][j];
                }
            }
            return gain;
        }
    }

    /**
     * Runs with gains of an earlier run, so that what is off can be compared between constants.
     *
     * @param off in deviations: the air's by step, then, from {@code size} on where there is room,
     *     the tub's
     */
    void replay(NetworkConstants of, Gains gains, double[] off) {
        Network fanOn = new Network(of, true, STEP);
        Network still = new Network(of, false, STEP);
        double departureKept = Math.exp(-STEP / DEPARTURE_MEMORY_SECONDS);
        boolean withTub = off.length >= 2 * steps.size;
        double[] x = start();
        for (int k = 0; k < steps.size; k++) {
            if (k > 0) {
                boolean isStill = steps.isStill[k - 1] || steps.isStill[k];
                double heat = (steps.heat[k - 1] + steps.heat[k]) / 2;
                double power =
                        heat * (of.fullHeatKelvin() + x[DEPARTURE] * gains.powerKelvin)
                                + (isStill ? 0 : of.fanKelvin());
                (isStill ? still : fanOn).advance(x, x[ROOM], power);
                x[DEPARTURE] *= departureKept;
            }
            move(x, gains.ofRoom[k], steps.room[k] - x[ROOM]);
            double airError = steps.air[k] - x[Network.AIR];
            off[k] = gains.airDeviation[k] == 0 ? 0 : airError / gains.airDeviation[k];
            move(x, gains.ofAir[k], airError);
            if (withTub) {
                double tubError = steps.tub[k] - x[Network.EGG] - x[TUB_OFFSET];
                off[steps.size + k] =
                        gains.tubDeviation[k] == 0 ? 0 : tubError / gains.tubDeviation[k];
                move(x, gains.ofTub[k], tubError);
            }
        }
    }

    private static void move(double[] x, double[] gain, double error) {
        for (int i = 0; i < gain.length; i++) {
            x[i] += gain[i] * error;
        }
    }
}
