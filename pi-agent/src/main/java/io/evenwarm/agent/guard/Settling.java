package io.evenwarm.agent.guard;

import io.evenwarm.agent.cabinet.CabinetState;
import io.evenwarm.message.Limits;

/**
 * Whether a cabinet has settled: no air probe was below the cold limit for {@value #AFTER_SECONDS}
 * s. Until then it is warming up, after a start, an open door or a power cut, and much of what
 * would be wrong in a settled cabinet is as it should be: a heater at full power drives top and
 * bottom apart, and near the limit the relay's cycles carry the coldest probe across it and back.
 */
final class Settling {

    /** Some windows of the time-proportioned relay. */
    static final double AFTER_SECONDS = 900;

    private static final long AFTER_NANOS = (long) (AFTER_SECONDS * 1e9);

    private boolean isTiming;
    private long aboveSinceNanos;
    private boolean isSettled;

    /** Returns whether it is settled now; while blind it is not. */
    boolean update(CabinetState state, Limits limits, long nowNanos) {
        if (state.isBlind() || state.celsius(state.coldestAir()) < limits.tooCold().celsius()) {
            restart();
            return false;
        }
        if (!isTiming) {
            isTiming = true;
            aboveSinceNanos = nowNanos;
        }
        isSettled = isSettled || nowNanos - aboveSinceNanos >= AFTER_NANOS;
        return isSettled;
    }

    /** The limits moved. */
    void restart() {
        isTiming = false;
        isSettled = false;
    }
}
