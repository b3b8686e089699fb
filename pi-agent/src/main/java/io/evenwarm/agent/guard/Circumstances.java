package io.evenwarm.agent.guard;

import io.evenwarm.agent.cabinet.CabinetState;
import io.evenwarm.agent.guard.health.CabinetHealth;
import io.evenwarm.agent.port.Latch;
import io.evenwarm.message.Limits;

/**
 * What a {@link Watch} may look at in one tick.
 *
 * @param state the readings
 * @param isSettled whether the cabinet has warmed up; see {@link Settling}
 * @param heatShare of the last minutes in which the heater was on, 0 to 1
 * @param isHeatHeld whether heat is held back in this tick, for whatever cause
 * @param setPointCelsius the set point in force
 * @param highestSetPointCelsius the highest one that the air may still be coming from; above the
 *     one in force only while a programme brings it down
 * @param limits the limits in force
 * @param latch the hard cut-off's latch, this tick's trip included
 * @param trust which probes are set aside; a watch may set its own aside and take that back
 * @param health what was learned of the cabinet, this tick included
 * @param isHeaterStuckOn whether the heater heats without being told to
 * @param facts what is known beside the readings
 * @param nowNanos monotonic time of the tick
 */
record Circumstances(
        CabinetState state,
        boolean isSettled,
        double heatShare,
        boolean isHeatHeld,
        double setPointCelsius,
        double highestSetPointCelsius,
        Limits limits,
        Latch latch,
        TrustBook trust,
        CabinetHealth health,
        boolean isHeaterStuckOn,
        TickFacts facts,
        long nowNanos) {}
