package io.evenwarm.agent.guard.health;

/**
 * Air that plunges, or comes back, as it does before a door is known to be open and after it is
 * shut. Each probe then seems to jump from sample to sample.
 */
final class RestlessAir {

    /** So much in a block of ten seconds no heater does, K. */
    private static final double PLUNGE_KELVIN = 0.5;

    /** It is calm again after a minute. */
    private static final int BLOCKS = 6;

    private double last = Double.NaN;
    private int left;

    /** Takes a block's temperature in, °C, and returns whether the air is restless. */
    boolean take(double celsius) {
        left = Math.abs(celsius - last) > PLUNGE_KELVIN ? BLOCKS : Math.max(0, left - 1);
        last = celsius;
        return left > 0;
    }
}
