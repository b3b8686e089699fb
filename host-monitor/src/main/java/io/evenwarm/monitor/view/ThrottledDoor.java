package io.evenwarm.monitor.view;

import io.evenwarm.clock.MonotonicClock;
import java.time.Duration;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.Executor;
import java.util.concurrent.atomic.AtomicLong;

/**
 * The only way from a worker to the window's thread.
 *
 * <p>Each piece of work has a slot; a newer piece replaces an unstarted older one of its slot. All
 * waiting pieces pass together, at most once in {@link #SPACING}, and never while an earlier batch
 * still waits for the window's thread: a slow window gets fewer updates, not a queue of them.
 *
 * <p>Any thread may call {@link #put}; {@link #step} belongs to the worker that drives the door.
 */
final class ThrottledDoor {

    /** Ten updates a second are enough for numbers that change once a second. */
    static final Duration SPACING = Duration.ofMillis(100);

    /** What a piece of work updates; the newest of each wins. */
    enum Slot {
        MODEL,
        CHART,
        LOG,
        ALARMS,
        EVENNESS,
        OUTAGES,
        ANSWER
    }

    private final Executor windowThread;
    private final MonotonicClock clock;
    private final AtomicLong passes = new AtomicLong();
    private final Object lock = new Object();

    // Both guarded by lock.
    private final Map<Slot, Runnable> waiting = new LinkedHashMap<>();
    private boolean underway;

    // The driving worker's own.
    private long lastPassNanos;
    private boolean passedOnce;

    ThrottledDoor(Executor windowThread, MonotonicClock clock) {
        this.windowThread = windowThread;
        this.clock = clock;
    }

    /** Leaves work to be run on the window's thread, in place of older work of the slot. */
    void put(Slot slot, Runnable work) {
        synchronized (lock) {
            waiting.remove(slot);
            waiting.put(slot, work);
        }
    }

    /** Lets what waits pass, if it is time. */
    void step() {
        long now = clock.nanos();
        if (passedOnce && now - lastPassNanos < SPACING.toNanos()) {
            return;
        }
        List<Runnable> batch;
        synchronized (lock) {
            if (underway || waiting.isEmpty()) {
                return;
            }
            batch = new ArrayList<>(waiting.values());
            waiting.clear();
            underway = true;
        }
        passedOnce = true;
        lastPassNanos = now;
        passes.incrementAndGet();
        windowThread.execute(() -> run(batch));
    }

    /** How many batches have passed since the start. */
    long passes() {
        return passes.get();
    }

    private void run(List<Runnable> batch) {
        try {
            batch.forEach(Runnable::run);
        } finally {
            synchronized (lock) {
                underway = false;
            }
        }
    }
}
