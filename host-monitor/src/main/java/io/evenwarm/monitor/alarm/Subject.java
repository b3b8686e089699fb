package io.evenwarm.monitor.alarm;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.CabinetName;
import io.evenwarm.monitor.history.CabinetKey;
import java.util.Optional;

/**
 * What an alarm is about: a cabinet, an agent, or the monitor itself.
 *
 * @param agent empty when it is the monitor
 * @param cabinet empty when it is the agent as a whole; never there without an agent
 */
public record Subject(Optional<AgentName> agent, Optional<CabinetName> cabinet) {

    public static final Subject MONITOR = new Subject(Optional.empty(), Optional.empty());

    public Subject {
        if (cabinet.isPresent() && agent.isEmpty()) {
            throw new IllegalArgumentException(
                    "a cabinet belongs to an agent but "
                            + cabinet.get()
                            + " was given without one");
        }
    }

    public static Subject of(AgentName agent) {
        return new Subject(Optional.of(agent), Optional.empty());
    }

    public static Subject of(CabinetKey key) {
        return new Subject(Optional.of(key.agent()), Optional.of(key.cabinet()));
    }

    /** The cabinet; empty where it is about none alone. */
    public Optional<CabinetKey> cabinetKey() {
        return agent.flatMap(its -> cabinet.map(inside -> new CabinetKey(its, inside)));
    }

    /** For a person, as in "egg room / north". */
    @Override
    public String toString() {
        return agent.map(name -> name + cabinet.map(inside -> " / " + inside).orElse(""))
                .orElse("monitor");
    }
}
