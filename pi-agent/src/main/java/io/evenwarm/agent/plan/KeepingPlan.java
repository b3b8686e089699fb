package io.evenwarm.agent.plan;

import java.util.Optional;

/**
 * What a cabinet is kept for, beside its set point.
 *
 * @param holdsEggs whether eggs may be in it: then no test is run on it unless a person insists
 * @param programme how its set point goes by itself
 * @param humidity how moist its air is to be; without it neither humidifier nor vent is driven on
 */
public record KeepingPlan(
        boolean holdsEggs, Optional<ProgrammePlan> programme, Optional<HumidityPlan> humidity) {

    /** Eggs in it, one set point, and nothing done about the moisture. */
    public static final KeepingPlan USUAL =
            new KeepingPlan(true, Optional.empty(), Optional.empty());
}
