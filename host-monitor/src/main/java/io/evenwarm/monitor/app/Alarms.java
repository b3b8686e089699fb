package io.evenwarm.monitor.app;

import io.evenwarm.clock.SystemClock;
import io.evenwarm.message.AgentName;
import io.evenwarm.monitor.alarm.Fact;
import io.evenwarm.monitor.alarm.TimeLeft;
import io.evenwarm.monitor.alert.AlarmKeeper;
import io.evenwarm.monitor.history.Tub;
import io.evenwarm.monitor.store.HistoryStore;
import io.evenwarm.monitor.store.StoreException;
import java.io.IOException;
import java.lang.System.Logger.Level;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Supplier;
import java.util.stream.Collectors;

/** From settings to the alarms at work. */
final class Alarms {

    private static final System.Logger LOG = System.getLogger(Alarms.class.getName());

    private Alarms() {}

    /**
     * Starts to judge what a station receives.
     *
     * @param timeLeft how long eggs have
     * @param notices who tells people; empty when nobody stands in the settings
     * @param facts what the monitor knows of itself
     * @throws IOException when the store can't be read
     */
    static AlarmKeeper start(
            MonitorSettings settings,
            Station station,
            HistoryStore store,
            TimeLeft timeLeft,
            Optional<NoticeStation> notices,
            MonitorFacts facts)
            throws IOException {
        LimitNames names = new LimitNames(settings.alarms().settings().cabinets().keySet());
        return AlarmKeeper.start(
                settings.alarms().settings(),
                timeLeft,
                settings.agents().stream()
                        .map(MonitorSettings.AgentEntry::name)
                        .collect(Collectors.<AgentName>toSet()),
                new AlarmKeeper.Around(
                        station.live(),
                        store.alarms(),
                        notices.map(NoticeStation::desk),
                        () -> {
                            names.look(station.live().cabinets())
                                    .forEach(words -> LOG.log(Level.WARNING, words));
                            return facts.get();
                        },
                        () -> tubs(settings)),
                SystemClock.monotonic(),
                SystemClock.wall());
    }

    /**
     * Starts to judge by the usual limits, and tells nobody.
     *
     * @param longRecord what cabinets' long records say
     * @throws IOException when the store can't be read
     */
    static AlarmKeeper startWithoutNotices(
            Set<AgentName> agents,
            Station station,
            HistoryStore store,
            TimeLeft timeLeft,
            Supplier<List<Fact>> longRecord)
            throws IOException {
        return AlarmKeeper.start(
                AlarmPlan.DEFAULT.settings(),
                timeLeft,
                agents,
                new AlarmKeeper.Around(
                        station.live(), store.alarms(), Optional.empty(), longRecord, List::of),
                SystemClock.monotonic(),
                SystemClock.wall());
    }

    private static List<Tub> tubs(MonitorSettings settings) {
        return tubs(settings, false);
    }

    /** The tubs there are, or that ever were; none where the store can't be read. */
    static List<Tub> tubs(MonitorSettings settings, boolean withPast) {
        try {
            return settings.storeFromOutside().tubs(withPast);
        } catch (StoreException e) {
            LOG.log(Level.WARNING, "which tubs are at stake is not known: {0}", e.getMessage());
            return List.of();
        }
    }
}
