package io.evenwarm.monitor.history;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.CabinetName;

/** A cabinet among those of all agents. */
public record CabinetKey(AgentName agent, CabinetName cabinet) implements Comparable<CabinetKey> {

    @Override
    public int compareTo(CabinetKey other) {
        int byAgent = agent.compareTo(other.agent);
        return byAgent != 0 ? byAgent : cabinet.compareTo(other.cabinet);
    }
}
