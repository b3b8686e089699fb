package io.evenwarm.agent.guard.health;

/**
 * One supposition about the heater (it obeys, it gives nothing, it is always on), run beside the
 * others on the same readings. Under the right one, the air less {@code k q} moves slowly.
 */
final class HeatModel {

    /** What is slower than this is the cabinet's, not the heater's. */
    static final double LEVEL_SECONDS = 900;

    private final Lag delayed = new Lag(HeatResponse.PROBE_LAG_SECONDS);
    private Lag heat = new Lag(250);
    private double lagSeconds = 250;
    private final Lag level = new Lag(LEVEL_SECONDS);
    private double surpriseKelvin;

    /** Goes on from where the response stands, as if all had been well up to now. */
    void startFrom(HeatResponse response, double celsius) {
        useLag(response.lagSeconds());
        delayed.set(response.delayedShare());
        heat.set(response.share());
        level.set(celsius - response.kelvin() * heat.value());
        surpriseKelvin = 0;
    }

    /** Goes on from where another model stands. */
    void startFrom(HeatModel other) {
        useLag(other.lagSeconds);
        delayed.set(other.delayed.value());
        heat.set(other.heat.value());
        level.set(other.level.value());
        surpriseKelvin = other.surpriseKelvin;
    }

    /** What the air is now is the cabinet's own level and this supposition's heat. */
    void settle(double celsius, double kelvinPerShare) {
        level.set(celsius - kelvinPerShare * heat.value());
        surpriseKelvin = 0;
    }

    private void useLag(double seconds) {
        if (seconds != lagSeconds) {
            lagSeconds = seconds;
            heat = new Lag(seconds);
        }
    }

    /**
     * Takes a block in.
     *
     * @param heatShare that this supposition says was given, 0 to 1
     * @param celsius of the air
     * @param kelvinPerShare the cabinet's response
     */
    void step(double heatShare, double celsius, double kelvinPerShare) {
        heat.step(delayed.step(heatShare));
        double rest = celsius - kelvinPerShare * heat.value();
        surpriseKelvin = rest - level.value();
        level.step(rest);
    }

    /** How far the air is from what this supposition expects, K. */
    double surpriseKelvin() {
        return surpriseKelvin;
    }

    /** Share of heat that reaches the air by this supposition, 0 to 1. */
    double share() {
        return heat.value();
    }
}
