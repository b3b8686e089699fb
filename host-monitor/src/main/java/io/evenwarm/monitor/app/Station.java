package io.evenwarm.monitor.app;

import io.evenwarm.clock.SystemClock;
import io.evenwarm.message.AgentName;
import io.evenwarm.monitor.history.HistoryQueries;
import io.evenwarm.monitor.intake.AgentAddress;
import io.evenwarm.monitor.intake.Intake;
import io.evenwarm.monitor.intake.IntakeContext;
import io.evenwarm.monitor.live.CommandSender;
import io.evenwarm.monitor.live.LiveModel;
import io.evenwarm.monitor.live.LiveView;
import io.evenwarm.monitor.store.HistoryStore;
import java.util.List;

/** The running monitor behind a window or a terminal: store, live model, links. */
final class Station implements AutoCloseable {

    private final HistoryStore store;
    private final LiveModel live;
    private final Intake intake;

    private Station(HistoryStore store, LiveModel live, Intake intake) {
        this.store = store;
        this.live = live;
        this.intake = intake;
    }

    /**
     * Starts to connect to the agents. Returns at once.
     *
     * @param store is closed with this
     */
    static Station start(String monitorName, HistoryStore store, List<AgentAddress> agents) {
        List<AgentName> names = agents.stream().map(AgentAddress::name).toList();
        LiveModel live = new LiveModel(SystemClock.monotonic(), names);
        IntakeContext context =
                new IntakeContext(
                        monitorName,
                        "evenwarm " + Version.text(),
                        store,
                        live,
                        SystemClock.monotonic(),
                        ProcessHandle.current().pid());
        return new Station(store, live, Intake.start(context, agents));
    }

    LiveView live() {
        return live;
    }

    HistoryQueries history() {
        return store;
    }

    CommandSender commands() {
        return intake;
    }

    /** Links first, so that nothing is acknowledged that the store did not take. */
    @Override
    public void close() {
        intake.close();
        store.close();
    }
}
