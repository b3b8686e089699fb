package io.evenwarm.agent.port;

import java.util.List;

/**
 * All of one cabinet that the agent reads and switches.
 *
 * @param probes in the plan's order
 * @param outputs its lines
 * @param inputs what it tells beside its probes
 */
public record CabinetDevices(List<Probe> probes, CabinetOutputs outputs, CabinetInputs inputs) {

    public CabinetDevices {
        probes = List.copyOf(probes);
    }
}
