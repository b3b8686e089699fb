package io.evenwarm.monitor.view;

import io.evenwarm.clock.MonotonicClock;

/** One round of the history thread: the newest question, and now and then who is known at all. */
final class HistoryRounds {

    private final HistoryWorker history;
    private final MonotonicClock clock;
    private final long lookEveryNanos;
    private boolean looked;
    private long lookedAtNanos;

    HistoryRounds(HistoryWorker history, MonotonicClock clock, long lookEveryMillis) {
        this.history = history;
        this.clock = clock;
        this.lookEveryNanos = lookEveryMillis * 1_000_000;
    }

    void round() {
        long now = clock.nanos();
        if (!looked || now - lookedAtNanos >= lookEveryNanos) {
            looked = true;
            lookedAtNanos = now;
            history.lookForKnown();
        }
        history.step();
    }
}
