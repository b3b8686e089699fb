package io.evenwarm.agent.guard.health;

/** Share of heat that was commanded lately, whatever came of it. */
final class CommandedHeat {

    /** Heat of the last half hour, against the relay's windows. */
    private static final double HOLDING_SECONDS = 1800;

    private final Lag holding = new Lag(HOLDING_SECONDS);
    private final Lag late = new Lag(HeatResponse.WASHOUT_SECONDS);

    /**
     * Takes a block in.
     *
     * @param share commanded in it, 0 to 1
     * @return the mean of the last half hour, 0 to 1
     */
    double step(double share) {
        late.step(share);
        return holding.step(share);
    }

    /** The larger of the means of half an hour and of five minutes, 0 to 1. */
    double most() {
        return Math.max(holding.value(), late.value());
    }
}
