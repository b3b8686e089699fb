package io.evenwarm.monitor.view;

import java.lang.System.Logger;
import java.lang.System.Logger.Level;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;

/** One named daemon thread that does a piece of work again and again, and may be woken early. */
final class WindowThreads {

    private static final Logger LOG = System.getLogger(WindowThreads.class.getName());

    private final Semaphore wake = new Semaphore(0);
    private final Thread thread;
    private volatile boolean stopped;

    /**
     * @param millisMax the longest wait between two rounds
     */
    WindowThreads(String name, long millisMax, Runnable round) {
        thread =
                new Thread(
                        () -> {
                            while (!stopped) {
                                runOnce(name, round);
                                await(millisMax);
                            }
                        },
                        name);
        thread.setDaemon(true);
    }

    void start() {
        thread.start();
    }

    /** Makes the next round begin at once. */
    void wake() {
        wake.release();
    }

    void stop() {
        stopped = true;
        wake();
    }

    private void await(long millis) {
        try {
            if (wake.tryAcquire(millis, TimeUnit.MILLISECONDS)) {
                wake.drainPermits();
            }
        } catch (InterruptedException interrupted) {
            stopped = true;
        }
    }

    /**
     * A round that fails must not end the window's only eyes: it is told, and the next one runs.
     */
    private static void runOnce(String name, Runnable round) {
        try {
            round.run();
        } catch (RuntimeException trouble) {
            LOG.log(Level.ERROR, name + " failed once and goes on", trouble);
        }
    }
}
