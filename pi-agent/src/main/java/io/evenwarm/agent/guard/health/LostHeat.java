package io.evenwarm.agent.guard.health;

/** How much colder the air may soon be because heat is lost, and for no other reason. */
final class LostHeat {

    /**
     * Before it is learned how much the heater warms the air: so much of it may go, at a restart
     * that lets control begin anew in a cold room.
     */
    private static final double UNKNOWN_HEAT_KELVIN = 3;

    /** So much heat, of the last ten minutes, may have been all of that; none is nothing. */
    private static final double SOME_SHARE = 0.05;

    private static final double LATELY_SECONDS = 600;

    private final Lag lately = new Lag(LATELY_SECONDS);

    LostHeat() {
        // What was commanded before the start nobody knows.
        lately.set(1);
    }

    /** Takes a block in: share of heat commanded in it, 0 to 1. */
    void take(double heatShare) {
        lately.step(heatShare);
    }

    /** How much may go, K. */
    double kelvin(HeatResponse response) {
        return response.isLearned()
                ? response.kelvin() * response.share()
                : UNKNOWN_HEAT_KELVIN * Math.min(1, lately.value() / SOME_SHARE);
    }
}
