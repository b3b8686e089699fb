package io.evenwarm.monitor.app;

import java.util.ArrayDeque;
import java.util.Deque;

/**
 * What is to be ended at the way out, last begun first ended, once, whichever way out it is: a
 * command's own end, or a signal, which runs this on the JVM's shutdown thread.
 *
 * <p>Threads: any may call. A second call of {@link #close} waits until the first is done.
 */
final class Closing implements AutoCloseable {

    private static final System.Logger LOG = System.getLogger(Closing.class.getName());

    private final Deque<Runnable> steps = new ArrayDeque<>();
    private boolean isClosed;
    private volatile boolean isJvmEnding;

    /** Has the JVM close this on its way out, also when a signal ends it. */
    static Closing atExit() {
        Closing closing = new Closing();
        Runtime.getRuntime()
                .addShutdownHook(
                        new Thread(
                                () -> {
                                    closing.isJvmEnding = true;
                                    closing.close();
                                },
                                "evenwarm way out"));
        return closing;
    }

    /** Whether the JVM is on its way out already: then a window toolkit must be left alone. */
    boolean isJvmEnding() {
        return isJvmEnding;
    }

    /** Adds a step; where the way out has begun already, does it at once. */
    synchronized void add(Runnable step) {
        if (isClosed) {
            run(step);
        } else {
            steps.push(step);
        }
    }

    @Override
    public synchronized void close() {
        isClosed = true;
        Runnable step;
        while ((step = steps.poll()) != null) {
            run(step);
        }
    }

    private static void run(Runnable step) {
        try {
            step.run();
        } catch (RuntimeException e) {
            LOG.log(System.Logger.Level.WARNING, "a step of the way out failed", e);
        }
    }
}
