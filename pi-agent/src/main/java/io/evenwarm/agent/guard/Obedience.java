package io.evenwarm.agent.guard;

import io.evenwarm.agent.cabinet.CabinetState;
import java.util.Optional;

/**
 * Whether the heater is seen to obey a cut-off that has tripped: with its relay told off, the air
 * does not get warmer. Looks back {@value #MINUTES} minutes, so after a restart a reset must wait
 * for them.
 *
 * <p>A heater that heated without command before the trip has shown that its relay does not open;
 * what cools the cabinet then is the cut-off relay alone, and a reset would close that. Guard
 * remembers it until the agent is started again, or a person at the cabinet resets.
 */
final class Obedience {

    static final int MINUTES = 5;

    /** Warmer than this since then is getting warmer: more than noise and a DS18B20's step. */
    private static final double RISE_KELVIN = 0.1;

    private static final long MINUTE_NANOS = 60_000_000_000L;

    private final double[] celsius = new double[MINUTES + 1];
    private int count;
    private long lastNanos;
    private boolean wasStuckOn;

    /**
     * Takes a tick in.
     *
     * @param isTripped whether the latch is tripped
     * @param isStuckOn whether heat without command is found now
     */
    void update(CabinetState state, boolean isTripped, boolean isStuckOn, long nowNanos) {
        wasStuckOn |= isStuckOn;
        if (!isTripped || state.isBlind()) {
            count = 0;
            wasStuckOn = isStuckOn || (isTripped && wasStuckOn);
            return;
        }
        if (count == 0 || nowNanos - lastNanos >= MINUTE_NANOS) {
            lastNanos = nowNanos;
            System.arraycopy(celsius, 0, celsius, 1, MINUTES);
            celsius[0] = state.processCelsius();
            count = Math.min(count + 1, celsius.length);
        }
    }

    /** Why a reset from afar must wait, in plain words; empty when the heater obeys. */
    Optional<String> refusal(CabinetState state) {
        if (wasStuckOn) {
            return Optional.of(
                    "the heater heated without being told to, so its relay does not open: only the"
                            + " cut-off relay stops it now. Replace the relay, then start the agent"
                            + " again, or hold the cabinet's reset button");
        }
        if (count < celsius.length || state.isBlind()) {
            return Optional.of(
                    "the heater must be seen to obey first: "
                            + (MINUTES + 1 - count)
                            + " more minutes without getting warmer are needed");
        }
        double then = celsius[MINUTES];
        double now = state.processCelsius();
        if (now > then + RISE_KELVIN) {
            return Optional.of(
                    "it is getting warmer though the heater is told off: "
                            + Texts.celsius(then)
                            + " "
                            + MINUTES
                            + " min ago, "
                            + Texts.celsius(now)
                            + " now. Pull the heater's plug");
        }
        return Optional.empty();
    }
}
