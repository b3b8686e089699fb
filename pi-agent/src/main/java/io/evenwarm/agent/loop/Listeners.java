package io.evenwarm.agent.loop;

import io.evenwarm.agent.port.SnapshotListener;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.CabinetSnapshot;
import java.util.List;

/** Tells the listeners of each snapshot; what they throw is counted and stays here. */
final class Listeners {

    private static final System.Logger LOG = System.getLogger(Listeners.class.getName());

    /** The first failure is logged, then one in so many: at 1 Hz one line an hour. */
    private static final long LOG_EVERY = 3600;

    private final CabinetName cabinet;
    private final SnapshotListener[] listeners;
    // Written by the control thread only.
    private volatile long failures;

    Listeners(CabinetName cabinet, List<SnapshotListener> listeners) {
        this.cabinet = cabinet;
        this.listeners = listeners.toArray(SnapshotListener[]::new);
    }

    void publish(CabinetSnapshot snapshot) {
        for (SnapshotListener listener : listeners) {
            try {
                listener.published(snapshot);
            } catch (RuntimeException e) {
                count(e);
            }
        }
    }

    private void count(RuntimeException e) {
        long counted = failures + 1;
        failures = counted;
        if (counted % LOG_EVERY == 1) {
            LOG.log(
                    System.Logger.Level.ERROR,
                    "cabinet " + cabinet + ": a listener failed, " + counted + " times so far",
                    e);
        }
    }

    long failures() {
        return failures;
    }
}
