package io.evenwarm.monitor.app;

import io.evenwarm.message.AgentName;
import io.evenwarm.monitor.evenness.Wording;
import io.evenwarm.monitor.history.Retention;
import io.evenwarm.monitor.store.HistoryStore;
import io.evenwarm.monitor.store.StoreException;
import io.evenwarm.monitor.store.StoreFile;
import io.evenwarm.monitor.store.StoreOutside;
import io.evenwarm.monitor.store.StoreServer;
import io.evenwarm.outside.FeedPlan;
import io.evenwarm.quantity.TemperatureUnit;
import java.nio.file.Path;
import java.time.ZoneId;
import java.util.List;
import java.util.Optional;

/**
 * The monitor as set up by its keeper, checked.
 *
 * @param name what this monitor calls itself to agents
 * @param dataFolder history, lock and identity
 * @param unit of temperatures that people see
 * @param zone of times that people see
 * @param retention for how long history is kept
 * @param storeUrl of a database server that holds the history; empty: a file in the data folder
 * @param page where the phone page is served; empty for nowhere
 * @param outsideSwitch which outside switch is fed while all is well; empty for none
 * @param agents whom to connect to
 * @param notices who is told, and how
 * @param alarms by what the monitor judges
 * @param person who acts at this monitor's window, for the alarm log; empty: the account that runs
 *     it
 */
record MonitorSettings(
        String name,
        Path dataFolder,
        TemperatureUnit unit,
        ZoneId zone,
        Retention retention,
        Optional<String> storeUrl,
        Optional<PageSettings> page,
        Optional<FeedPlan> outsideSwitch,
        List<AgentEntry> agents,
        NoticeSettings notices,
        AlarmPlan alarms,
        Optional<String> person) {

    MonitorSettings {
        agents = List.copyOf(agents);
    }

    /** Opens the history, to write it. */
    HistoryStore openStore() throws StoreException {
        return storeUrl.isPresent()
                ? HistoryStore.openAt(storeUrl.get())
                : HistoryStore.open(dataFolder);
    }

    /** The history as seen from outside, also while a monitor uses it. */
    StoreOutside storeFromOutside() {
        return storeUrl.isPresent() ? new StoreServer(storeUrl.get()) : new StoreFile(dataFolder);
    }

    /** How temperatures and times are said. */
    Wording wording() {
        return new Wording(unit, zone);
    }

    /** One {@code [[agent]]}. */
    record AgentEntry(AgentName name, Route route) {}
}
