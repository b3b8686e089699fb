package io.evenwarm.monitor.app;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.CabinetName;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.live.LiveCabinet;
import io.evenwarm.monitor.live.Liveness;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;

/**
 * Whether the cabinets that have limits of their own in the settings are there: a name that is
 * written wrongly would leave its cabinet with the limits of all others, and nobody would notice.
 * Used by one thread at a time.
 */
final class LimitNames {

    /** An agent's cabinets come one after the other within a second or two. */
    private static final int LOOKS = 40;

    private final Map<AgentName, Set<CabinetName>> wanted = new HashMap<>();
    private final Map<AgentName, Integer> looks = new HashMap<>();

    /**
     * @param cabinets those that have limits of their own
     */
    LimitNames(Collection<CabinetKey> cabinets) {
        cabinets.forEach(
                key ->
                        wanted.computeIfAbsent(key.agent(), agent -> new TreeSet<>())
                                .add(key.cabinet()));
    }

    /**
     * What is written wrongly, once for each agent, a few looks after it was first heard of.
     *
     * @param live what agents tell; look a few times a second
     */
    List<String> look(List<LiveCabinet> live) {
        List<String> wrong = new ArrayList<>();
        for (AgentName agent : List.copyOf(wanted.keySet())) {
            Set<CabinetName> there =
                    live.stream()
                            .filter(cabinet -> cabinet.key().agent().equals(agent))
                            .filter(cabinet -> cabinet.liveness() == Liveness.LIVE)
                            .map(cabinet -> cabinet.key().cabinet())
                            .collect(Collectors.toCollection(TreeSet::new));
            if (there.isEmpty() || looks.merge(agent, 1, Integer::sum) < LOOKS) {
                continue;
            }
            Set<CabinetName> names = wanted.remove(agent);
            if (names != null) {
                names.stream()
                        .filter(name -> !there.contains(name))
                        .forEach(name -> wrong.add(words(agent, name, there)));
            }
        }
        return wrong;
    }

    private static String words(AgentName agent, CabinetName name, Set<CabinetName> there) {
        return "[[alarms.cabinet]] of the settings names cabinet \""
                + name
                + "\" of agent \""
                + agent
                + "\", which tells of "
                + there.stream().map(each -> "\"" + each + "\"").collect(Collectors.joining(", "))
                + ": these limits have no effect until the name is corrected";
    }
}
