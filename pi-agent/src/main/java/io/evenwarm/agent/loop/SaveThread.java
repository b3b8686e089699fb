package io.evenwarm.agent.loop;

import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.Executor;
import java.util.concurrent.ThreadPoolExecutor;
import java.util.concurrent.TimeUnit;

/**
 * The one thread that writes latches and set points, so that no tick waits for a disk. Its queue
 * holds {@value #CAPACITY}; more are rejected, and tried again by whoever handed them in.
 */
public final class SaveThread implements Executor, AutoCloseable {

    static final int CAPACITY = 64;

    private static final long CLOSE_WAITS_SECONDS = 2;

    private final ThreadPoolExecutor thread =
            new ThreadPoolExecutor(
                    1,
                    1,
                    0,
                    TimeUnit.SECONDS,
                    new ArrayBlockingQueue<>(CAPACITY),
                    work -> {
                        Thread made = new Thread(work, "durable keeper");
                        made.setDaemon(true);
                        return made;
                    });

    /**
     * @throws java.util.concurrent.RejectedExecutionException when the queue is full or this is
     *     closed
     */
    @Override
    public void execute(Runnable save) {
        thread.execute(save);
    }

    /** Lets what waits be written, for 2 s at most. */
    @Override
    public void close() {
        thread.shutdown();
        try {
            if (!thread.awaitTermination(CLOSE_WAITS_SECONDS, TimeUnit.SECONDS)) {
                thread.shutdownNow();
            }
        } catch (InterruptedException e) {
            thread.shutdownNow();
            Thread.currentThread().interrupt();
        }
    }
}
