package io.evenwarm.agent.app;

import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;

/**
 * Ctrl-C on a long computation: it is told to stop, and the process waits a little for it to print
 * what was done so far.
 */
final class StopRequest implements AutoCloseable {

    private static final long PRINT_SECONDS = 5;

    private final CountDownLatch closed = new CountDownLatch(1);
    private final Thread hook = new Thread(this::stop, "stop request");
    private volatile boolean isStopped;

    StopRequest() {
        Runtime.getRuntime().addShutdownHook(hook);
    }

    boolean isStopped() {
        return isStopped;
    }

    private void stop() {
        isStopped = true;
        try {
            closed.await(PRINT_SECONDS, TimeUnit.SECONDS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    @Override
    public void close() {
        closed.countDown();
        if (!isStopped) {
            try {
                Runtime.getRuntime().removeShutdownHook(hook);
            } catch (IllegalStateException e) {
                // The process ends already; the hook finds the latch open.
                return;
            }
        }
    }
}
