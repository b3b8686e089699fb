package io.evenwarm.agent.control;

import io.evenwarm.agent.plan.HumidityPlan;

/**
 * Two-position control of a humidifier and of a vent, each with its own half of a dead band: below
 * target − half the humidifier goes on until the target is reached, above target + half the vent
 * does. Blind, both are off: dry air harms eggs in days, a flooded cabinet sooner.
 *
 * <p>Called by the control thread only.
 */
public final class HumidityControl {

    /**
     * No moisture is added while the dew point is within this of the coldest air: it would run down
     * the walls and into the tubs.
     */
    static final double CONDENSES_KELVIN = 0.3;

    private final HumidityPlan plan;
    private boolean isHumidifierOn;
    private boolean isVentOn;
    private double humidifierSeconds = Double.MAX_VALUE;
    private double ventSeconds = Double.MAX_VALUE;

    public HumidityControl(HumidityPlan plan) {
        this.plan = plan;
    }

    /**
     * One step with a good humidity.
     *
     * @param percent relative humidity, finite
     * @param dewPointCelsius its dew point
     * @param coldestCelsius coldest air probe
     * @param elapsedSeconds since the step before, above 0
     */
    public void step(
            double percent, double dewPointCelsius, double coldestCelsius, double elapsedSeconds) {
        humidifierSeconds += elapsedSeconds;
        ventSeconds += elapsedSeconds;
        double half = plan.deadBandPercent() / 2;
        boolean wouldCondense = dewPointCelsius > coldestCelsius - CONDENSES_KELVIN;
        boolean humidify =
                !wouldCondense
                        && percent
                                < (isHumidifierOn
                                        ? plan.targetPercent()
                                        : plan.targetPercent() - half);
        boolean vent = percent > (isVentOn ? plan.targetPercent() : plan.targetPercent() + half);
        if (humidify != isHumidifierOn
                && (wouldCondense || humidifierSeconds >= plan.shortestSeconds())) {
            isHumidifierOn = humidify;
            humidifierSeconds = 0;
        }
        if (vent != isVentOn && ventSeconds >= plan.shortestSeconds()) {
            isVentOn = vent;
            ventSeconds = 0;
        }
    }

    /** One step without a good humidity, or while nothing may be switched on: both off. */
    public void idle() {
        isHumidifierOn = false;
        isVentOn = false;
    }

    public boolean isHumidifierWanted() {
        return isHumidifierOn;
    }

    public boolean isVentWanted() {
        return isVentOn;
    }
}
