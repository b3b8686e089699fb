package io.evenwarm.monitor.thermal;

import java.util.Arrays;
import java.util.Random;
import org.apache.commons.math3.linear.RealMatrix;

/**
 * How the eggs on the coldest and on the warmest shelf go on, from how a cabinet is now. Constants
 * are drawn {@value #DRAWS} times from what the fit knows of them, always the same ones; the spread
 * of what follows is the uncertainty.
 *
 * <p>The coldest shelf is below the mean, and the warmest above it, by what their air was over the
 * last day: in proportion to the heater's power while the fan runs, and to how far the eggs are
 * above the room while it does not. Eggs take to a new difference with their own lag.
 */
public final class Outlook {

    /** As far as anybody trusts a room, h. */
    public static final int HOURS = 72;

    private static final double STEP = ThermalRecord.CELL_SECONDS;
    private static final int MINUTES = HOURS * 60;
    private static final int DAY_CELLS = 24 * 60;
    private static final int DRAWS = 64;
    private static final long SEED = 8;

    /**
     * What a lumped model is off by in a time, as a logarithm: cooling with a fan, cooling in still
     * air, and warming. From 720 simulated failures whose seeds no check uses.
     */
    private static final double COOLING_MODEL = 0.13;

    private static final double STILL_MODEL = 0.09;
    private static final double WARMING_MODEL = 0.05;

    private static final double LOW_SHARE = 0.1;

    private final double[] start;
    private final double roomCelsius;
    private final double[] roomOfDay = new double[DAY_CELLS];
    private final double meanHeat;
    private final double colderKelvin;
    private final double warmerKelvin;
    private final double[][] draws;
    private final double[] normals;

    /**
     * @param recent the last two days or so, up to now
     */
    public Outlook(ThermalFit fit, ThermalRecord recent) {
        Steps steps = new Steps(recent);
        start = StateFilter.following(steps).run(fit.constants()).mean;
        roomCelsius = start[StateFilter.ROOM];
        fillRoom(recent);
        double heat = 0;
        double colder = 0;
        double warmer = 0;
        int seen = 0;
        for (int k = Math.max(0, recent.size() - DAY_CELLS); k < recent.size(); k++) {
            double down = recent.air(k) - recent.coldestAir(k);
            double up = recent.warmestAir(k) - recent.air(k);
            if (Double.isFinite(down + up + recent.duty(k)) && !recent.isFanOff(k)) {
                heat += recent.duty(k);
                colder += down;
                warmer += up;
                seen++;
            }
        }
        meanHeat = seen == 0 ? 0.3 : Math.max(0.02, heat / seen);
        colderKelvin = seen == 0 ? 0 : Math.max(0, colder / seen);
        warmerKelvin = seen == 0 ? 0 : Math.max(0, warmer / seen);
        Random random = new Random(SEED);
        RealMatrix root = fit.uncertainty().root();
        draws = new double[DRAWS][];
        normals = new double[DRAWS];
        for (int d = 0; d < DRAWS; d++) {
            double[] normal = new double[ThermalFitter.SIZE];
            for (int i = 0; i < normal.length; i++) {
                normal[i] = d == 0 ? 0 : random.nextGaussian();
            }
            double[] z = root.operate(normal);
            double[] at = fit.uncertainty().at();
            for (int i = 0; i < z.length; i++) {
                z[i] += at[i];
            }
            draws[d] = z;
            normals[d] = d == 0 ? 0 : random.nextGaussian();
        }
    }

    /** The room is taken to go as it went the day before, from where it is now. */
    private void fillRoom(ThermalRecord recent) {
        int from = recent.size() - DAY_CELLS;
        double last = Double.NaN;
        for (int i = DAY_CELLS - 1; i >= 0; i--) {
            double read = from + i < 0 ? Double.NaN : recent.room(from + i);
            last = Double.isFinite(read) ? read : last;
            roomOfDay[i] = last;
        }
        double first = Double.isFinite(roomOfDay[0]) ? roomOfDay[0] : roomCelsius;
        for (int i = 0; i < DAY_CELLS; i++) {
            double then = Double.isFinite(roomOfDay[i]) ? roomOfDay[i] : first;
            roomOfDay[i] = roomCelsius + then - first;
        }
    }

    /** The eggs' temperatures by draw and minute. */
    public Course of(Scenario scenario) {
        float[][] coldest = new float[DRAWS][MINUTES + 1];
        float[][] warmest = new float[DRAWS][MINUTES + 1];
        for (int d = 0; d < DRAWS; d++) {
            follow(ThermalFitter.constants(draws[d]), scenario, coldest[d], warmest[d]);
        }
        double[] paces = new double[DRAWS];
        double off = modelDeviation(scenario);
        for (int d = 0; d < DRAWS; d++) {
            paces[d] = Math.exp(off * normals[d]);
        }
        return new Course(coldest, warmest, paces);
    }

    private static double modelDeviation(Scenario scenario) {
        if (scenario.heating() == Scenario.Heating.STUCK_ON) {
            return WARMING_MODEL;
        }
        return scenario.isFanOn() ? COOLING_MODEL : STILL_MODEL;
    }

    private void follow(NetworkConstants of, Scenario scenario, float[] coldest, float[] warmest) {
        Network still = new Network(of, false, STEP);
        Network fanOn = new Network(of, true, STEP);
        double[] state = start.clone();
        double rise = Math.max(1, state[Network.EGG] - roomCelsius);
        double colder = colderKelvin;
        double warmer = warmerKelvin;
        double kept = Math.exp(-STEP / of.eggLagSeconds());
        double kettle = Math.exp(-STEP / Steps.HEATER_LAG_SECONDS);
        double heat = meanHeat;
        coldest[0] = (float) (state[Network.EGG] - colder);
        warmest[0] = (float) (state[Network.EGG] + warmer);
        for (int minute = 1; minute <= MINUTES; minute++) {
            double seconds = minute * STEP;
            double room = scenario.roomCelsius().orElse(roomOfDay[minute % DAY_CELLS]);
            boolean isHelped = seconds > scenario.helpSeconds().orElse(Double.POSITIVE_INFINITY);
            if (seconds > scenario.heldSeconds()) {
                boolean isFanOn = scenario.isFanOn() || isHelped;
                boolean isOn = scenario.heating() == Scenario.Heating.STUCK_ON || isHelped;
                heat = kettle * heat + (1 - kettle) * (isOn ? 1 : 0);
                double power = heat * of.fullHeatKelvin() + (isFanOn ? of.fanKelvin() : 0);
                (isFanOn ? fanOn : still).advance(state, room, power);
                double share =
                        isFanOn ? heat / meanHeat : Math.max(0, (state[Network.EGG] - room) / rise);
                colder = kept * colder + (1 - kept) * share * colderKelvin;
                warmer = kept * warmer + (1 - kept) * share * warmerKelvin;
            }
            coldest[minute] = (float) (state[Network.EGG] - colder);
            warmest[minute] = (float) (state[Network.EGG] + warmer);
        }
    }

    /** What came of it. */
    public static final class Course {

        private final float[][] coldest;
        private final float[][] warmest;
        private final double[] paces;

        private Course(float[][] coldest, float[][] warmest, double[] paces) {
            this.coldest = coldest;
            this.warmest = warmest;
            this.paces = paces;
        }

        /** Until the coldest eggs are at a limit or below, s. */
        public Span secondsUntilColdAt(double limitCelsius) {
            return times(coldest, -1, limitCelsius);
        }

        /** Until the warmest eggs are at a limit or above, s. */
        public Span secondsUntilWarmAt(double limitCelsius) {
            return times(warmest, 1, limitCelsius);
        }

        /**
         * The coldest eggs, °C.
         *
         * @param seconds from now, up to {@value Outlook#HOURS} h
         */
        public Span coldestCelsius(double seconds) {
            return at(coldest, seconds);
        }

        /**
         * The warmest eggs, °C.
         *
         * @param seconds from now, up to {@value Outlook#HOURS} h
         */
        public Span warmestCelsius(double seconds) {
            return at(warmest, seconds);
        }

        private Span times(float[][] curves, int sign, double limit) {
            double[] times = new double[curves.length];
            for (int d = 0; d < curves.length; d++) {
                int minute = 0;
                while (minute < curves[d].length && sign * (curves[d][minute] - limit) < 0) {
                    minute++;
                }
                times[d] =
                        minute == curves[d].length
                                ? Double.POSITIVE_INFINITY
                                : minute * STEP * paces[d];
            }
            return span(times);
        }

        private static Span at(float[][] curves, double seconds) {
            int minute = (int) Math.round(seconds / STEP);
            if (minute < 0 || minute > MINUTES) {
                throw new IllegalArgumentException(
                        "nothing is foretold beyond "
                                + HOURS
                                + " h but asked was "
                                + seconds
                                + " s");
            }
            double[] values = new double[curves.length];
            for (int d = 0; d < curves.length; d++) {
                values[d] = curves[d][minute];
            }
            return span(values);
        }

        private static Span span(double[] values) {
            double likely = values[0];
            double[] sorted = values.clone();
            Arrays.sort(sorted);
            double low = sorted[(int) (LOW_SHARE * sorted.length)];
            double high = sorted[(int) ((1 - LOW_SHARE) * sorted.length)];
            return new Span(Math.min(low, likely), likely, Math.max(high, likely));
        }
    }
}
