package io.evenwarm.agent.control;

import io.evenwarm.agent.plan.ControlPlan;
import io.evenwarm.quantity.Duty;

/** One cabinet's control. */
public final class HeaterControl {

    private final ControlPlan plan;

    public HeaterControl(ControlPlan plan) {
        this.plan = plan;
    }

    /**
     * One step with a good process value.
     *
     * @param setPointCelsius set point in force
     * @param processCelsius process value
     * @param elapsedSeconds time since the previous step, above 0
     * @param heaterWasOn whether the gate energised the heater after the previous step
     */
    public HeatRequest step(
            double setPointCelsius,
            double processCelsius,
            double elapsedSeconds,
            boolean heaterWasOn) {
        double fraction =
                Math.max(0, Math.min(1, plan.gainPerKelvin() * (setPointCelsius - processCelsius)));
        return new HeatRequest(new Duty(fraction), processCelsius < setPointCelsius);
    }

    /** One step without a process value, or while heat is not allowed: wants no heat. */
    public HeatRequest idle(double elapsedSeconds, boolean heaterWasOn) {
        return new HeatRequest(Duty.OFF, false);
    }
}
