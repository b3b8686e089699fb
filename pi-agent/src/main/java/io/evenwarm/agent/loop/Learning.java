package io.evenwarm.agent.loop;

import io.evenwarm.agent.guard.Guard;
import io.evenwarm.agent.port.LearnedStore;
import io.evenwarm.message.CabinetName;

/**
 * Keeps what guard has learned: seldom, because it changes slowly and a memory card wears. Four
 * times a day lose six hours of learning at most.
 *
 * <p>Called by the control thread only.
 */
final class Learning {

    private static final long EACH_NANOS = 6 * 3_600_000_000_000L;

    private final Guard guard;
    private final LearnedStore store;
    private boolean hasStarted;
    private long dueAtNanos;

    /** Sets aside what guard can't use of what was kept. */
    Learning(CabinetName cabinet, Guard guard, LearnedStore store) {
        this.guard = guard;
        this.store = store;
        guard.learnedRefusal().ifPresent(why -> store.setAside(cabinet, why));
    }

    /** Saves when it is time, and there is something worth it. */
    void saveWhenDue(StateNotes notes, long nowNanos) {
        if (!hasStarted) {
            hasStarted = true;
            dueAtNanos = nowNanos + EACH_NANOS;
        }
        if (nowNanos - dueAtNanos >= 0) {
            dueAtNanos = nowNanos + EACH_NANOS;
            guard.learned().ifPresent(learned -> notes.save(store, learned));
        }
    }
}
