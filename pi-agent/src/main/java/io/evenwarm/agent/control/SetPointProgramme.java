package io.evenwarm.agent.control;

import io.evenwarm.agent.plan.ProgrammePlan;
import java.util.List;

/**
 * Where a programme has the set point now. Steps are taken as ramps at the plan's rates, so that
 * the set point never jumps, and in parts of {@value #GRID_KELVIN} K, so that it does not move with
 * each tick.
 *
 * <p>A programme by the time of day that can't know the time goes back to the base, at the same
 * rates. Called by the control thread only.
 */
public final class SetPointProgramme {

    static final double GRID_KELVIN = 0.05;

    private static final double SECONDS_PER_HOUR = 3600;

    private final ProgrammePlan plan;
    private double exactOffset;
    private double offset;
    private double target;
    private boolean isFirst = true;

    public SetPointProgramme(ProgrammePlan plan) {
        this.plan = plan;
    }

    /** Whether its times are of the day, which only a trusted wall clock tells. */
    public boolean needsTimeOfDay() {
        return plan.clock() == ProgrammePlan.Clock.TIME_OF_DAY;
    }

    /**
     * One step.
     *
     * @param isTimeKnown whether {@code clockSeconds} can be believed
     * @param clockSeconds seconds since local midnight, or since the agent's start
     * @param elapsedSeconds since the step before, 0 or more
     * @return what to add to the base, K
     */
    public double step(boolean isTimeKnown, double clockSeconds, double elapsedSeconds) {
        target = isTimeKnown ? wanted(clockSeconds) : 0;
        if (isFirst && isTimeKnown && needsTimeOfDay()) {
            // A restart in the night goes on with the night.
            exactOffset = target;
        }
        isFirst = false;
        double up = plan.upKelvinPerHour() / SECONDS_PER_HOUR * elapsedSeconds;
        double down = plan.downKelvinPerHour() / SECONDS_PER_HOUR * elapsedSeconds;
        exactOffset += Math.max(-down, Math.min(up, target - exactOffset));
        if (exactOffset == target || Math.abs(exactOffset - offset) >= GRID_KELVIN) {
            offset = exactOffset;
        }
        return offset;
    }

    private double wanted(double clockSeconds) {
        List<ProgrammePlan.Step> steps = plan.steps();
        // Before the day's first step the last one of the evening before still holds.
        double wanted = needsTimeOfDay() ? steps.get(steps.size() - 1).offsetKelvin() : 0;
        for (int i = 0; i < steps.size(); i++) {
            if (steps.get(i).atSeconds() <= clockSeconds) {
                wanted = steps.get(i).offsetKelvin();
            }
        }
        return wanted;
    }

    /** Where the offset is going, K. */
    public double targetKelvin() {
        return target;
    }

    /** Whether it is on its way. */
    public boolean isMoving() {
        return exactOffset != target;
    }
}
