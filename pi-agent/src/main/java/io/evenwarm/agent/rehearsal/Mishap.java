package io.evenwarm.agent.rehearsal;

import io.evenwarm.agent.plant.PlantFault;

/** What a scenario lets happen: to the cabinet, or to the agent itself. */
public sealed interface Mishap {

    /** Something wrong with the cabinet, its probes or its room. */
    record InCabinet(PlantFault fault) implements Mishap {}
}
