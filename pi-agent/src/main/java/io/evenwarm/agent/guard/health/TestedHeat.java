package io.evenwarm.agent.guard.health;

/** For how long a test of the cut-off relay, or of tuning, leaves open what heat came. */
final class TestedHeat {

    /** After so many lags of the heater it no longer shows what came through a tested relay. */
    private static final double LAGS = 4;

    private double secondsLeft;

    /**
     * Takes a block in.
     *
     * @param circumstances of the block
     * @param lagSeconds of the heater, as learned, s
     */
    void take(Interference circumstances, double lagSeconds) {
        secondsLeft =
                switch (circumstances) {
                    case RELAY_TESTED ->
                            Math.min(CabinetHealth.RECOVERY_SECONDS, LAGS * lagSeconds);
                    case HEAT_TRIED -> Recovery.QUIET_AFTER_SECONDS;
                    default -> Math.max(0, secondsLeft - BlockMeans.SECONDS);
                };
    }

    /** Whether a test goes on, or what it did to the air does. */
    boolean isGoingOn() {
        return secondsLeft > 0;
    }
}
