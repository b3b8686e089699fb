package io.evenwarm.agent.rehearsal;

/**
 * How a room's temperature strays over days from what it is on average: two waves, of five days and
 * of two weeks, beside the room's own daily swing.
 *
 * @param meanKelvin by which the room is warmer on average; below 0 it is colder
 * @param swingKelvin the farthest that the waves take it from there; 0 to 20 K
 * @param phase which part of the waves it begins in, 0 to 1; at 0 both begin to rise
 */
public record Weather(double meanKelvin, double swingKelvin, double phase) {

    /** A room that is the same every day. */
    static final Weather STEADY = new Weather(0, 0, 0);

    /** What it does between two of these is less than a thermometer's step. */
    static final double STEP_SECONDS = 900;

    private static final double DAY = 86_400;
    private static final double QUICK_SECONDS = 5.3 * DAY;
    private static final double SLOW_SECONDS = 13.7 * DAY;
    private static final double QUICK_PART = 4.0 / 7;
    private static final double MOST_SWING = 20;

    public Weather {
        if (!(swingKelvin >= 0 && swingKelvin <= MOST_SWING)) {
            throw new IllegalArgumentException(
                    "a weather's swing must be 0 to 20 K but was " + swingKelvin);
        }
    }

    /** By how much the room is warmer then, K; seconds from the scenario's start. */
    public double kelvin(double seconds) {
        return meanKelvin
                + swingKelvin
                        * (QUICK_PART * wave(seconds / QUICK_SECONDS)
                                + (1 - QUICK_PART) * wave(seconds / SLOW_SECONDS));
    }

    /** What {@link #kelvin} never passes, K. */
    double warmestKelvin() {
        return meanKelvin + swingKelvin;
    }

    private double wave(double turns) {
        return StrictMath.sin(2 * StrictMath.PI * (turns + phase));
    }
}
