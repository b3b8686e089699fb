package io.evenwarm.monitor.app;

import io.evenwarm.message.AgentName;
import io.evenwarm.monitor.history.Retention;
import io.evenwarm.quantity.TemperatureUnit;
import java.nio.file.Path;
import java.time.ZoneId;
import java.util.List;

/**
 * The monitor as set up by its keeper, checked.
 *
 * @param name what this monitor calls itself to agents
 * @param dataFolder history, lock and identity
 * @param unit of temperatures that people see
 * @param zone of times that people see
 * @param retention for how long history is kept
 * @param agents whom to connect to
 */
record MonitorSettings(
        String name,
        Path dataFolder,
        TemperatureUnit unit,
        ZoneId zone,
        Retention retention,
        List<AgentEntry> agents) {

    MonitorSettings {
        agents = List.copyOf(agents);
    }

    /** One {@code [[agent]]}. */
    record AgentEntry(AgentName name, Route route) {}
}
