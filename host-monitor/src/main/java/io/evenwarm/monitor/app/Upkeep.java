package io.evenwarm.monitor.app;

import io.evenwarm.clock.WallClock;
import io.evenwarm.monitor.history.Retention;
import io.evenwarm.monitor.store.HistoryStore;
import io.evenwarm.monitor.store.StoreException;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;

/**
 * Removes from the store what is older than its retention, and notices that are over, in slices
 * with a pause between them, so that what agents send is never kept waiting for long.
 */
final class Upkeep implements AutoCloseable {

    private static final long FIRST_AFTER_SECONDS = 60;
    private static final long EVERY_SECONDS = 600;
    private static final long PAUSE_MILLIS = 50;
    private static final System.Logger LOG = System.getLogger(Upkeep.class.getName());

    private final HistoryStore store;
    private final Retention retention;
    private final WallClock clock;
    private final ScheduledExecutorService thread =
            Executors.newSingleThreadScheduledExecutor(
                    body -> {
                        Thread daemon = new Thread(body, "store upkeep");
                        daemon.setDaemon(true);
                        return daemon;
                    });

    Upkeep(HistoryStore store, Retention retention, WallClock clock) {
        this.store = store;
        this.retention = retention;
        this.clock = clock;
    }

    void start() {
        next(FIRST_AFTER_SECONDS, TimeUnit.SECONDS);
    }

    private void next(long delay, TimeUnit unit) {
        if (!thread.isShutdown()) {
            Future<?> unused = thread.schedule(this::step, delay, unit);
        }
    }

    private void step() {
        try {
            boolean isMore = store.thin(retention, clock.now()) > 0;
            isMore |= store.forgetNotices(clock.now()) > 0;
            if (isMore) {
                next(PAUSE_MILLIS, TimeUnit.MILLISECONDS);
                return;
            }
        } catch (StoreException | RuntimeException e) {
            LOG.log(System.Logger.Level.WARNING, "what is old could not be removed", e);
        }
        next(EVERY_SECONDS, TimeUnit.SECONDS);
    }

    @Override
    public void close() {
        thread.shutdownNow();
    }
}
