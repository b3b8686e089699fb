package io.evenwarm.agent.guard;

/**
 * How much of the last minutes the heater was on: an average that forgets with a time constant of
 * {@value #TIME_CONSTANT_SECONDS} s, more than a window of the time-proportioned relay.
 */
final class HeatShare {

    static final double TIME_CONSTANT_SECONDS = 300;

    private double share;

    /**
     * Takes a tick in.
     *
     * @param isHeaterOn whether the heater was energised since the last tick
     * @param elapsedSeconds since the last tick, 0 or more
     * @return the share now, 0 to 1
     */
    double update(boolean isHeaterOn, double elapsedSeconds) {
        double weight =
                Math.max(0, elapsedSeconds) / (TIME_CONSTANT_SECONDS + Math.max(0, elapsedSeconds));
        share += weight * ((isHeaterOn ? 1 : 0) - share);
        return share;
    }
}
