package io.evenwarm.monitor.app;

import io.evenwarm.clock.WallClock;
import io.evenwarm.monitor.store.StoreException;
import io.evenwarm.monitor.store.StoredRuns;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;

/**
 * Keeps in the store that the monitor runs, so that a later look can tell what nobody watched from
 * what did not reach it. What can't be kept is logged, and nothing waits for it.
 */
final class OwnRun implements AutoCloseable {

    private static final long EVERY_SECONDS = 30;
    private static final System.Logger LOG = System.getLogger(OwnRun.class.getName());

    private final StoredRuns runs;
    private final WallClock clock;
    private final long number;
    private final ScheduledExecutorService thread =
            Executors.newSingleThreadScheduledExecutor(
                    body -> {
                        Thread daemon = new Thread(body, "own run");
                        daemon.setDaemon(true);
                        return daemon;
                    });

    private OwnRun(StoredRuns runs, WallClock clock, long number) {
        this.runs = runs;
        this.clock = clock;
        this.number = number;
    }

    /** Says that a run begins, and from then on that it lives. */
    static OwnRun begin(StoredRuns runs, WallClock clock) throws StoreException {
        OwnRun run = new OwnRun(runs, clock, runs.begin(clock.now()));
        Future<?> unused =
                run.thread.scheduleWithFixedDelay(
                        run::alive, EVERY_SECONDS, EVERY_SECONDS, TimeUnit.SECONDS);
        return run;
    }

    private void alive() {
        try {
            runs.alive(number, clock.now());
        } catch (StoreException | RuntimeException e) {
            LOG.log(System.Logger.Level.WARNING, "that the monitor runs could not be kept", e);
        }
    }

    /** Says that it ends; before the store is closed. */
    @Override
    public void close() {
        thread.shutdownNow();
        try {
            runs.end(number, clock.now());
        } catch (StoreException | RuntimeException e) {
            LOG.log(System.Logger.Level.WARNING, "the monitor's end could not be kept", e);
        }
    }
}
