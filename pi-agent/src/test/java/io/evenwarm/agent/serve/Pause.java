package io.evenwarm.agent.serve;

import java.util.concurrent.TimeUnit;
import java.util.function.BooleanSupplier;

/** Waits for other threads, no longer than needed. */
final class Pause {

    private static final int MAX_MILLIS = 20_000;
    private static final int STEP_MILLIS = 5;

    private Pause() {}

    static void millis(long millis) {
        try {
            TimeUnit.MILLISECONDS.sleep(millis);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new AssertionError("interrupted", e);
        }
    }

    static void until(String what, BooleanSupplier condition) {
        for (int waited = 0; waited < MAX_MILLIS; waited += STEP_MILLIS) {
            if (condition.getAsBoolean()) {
                return;
            }
            millis(STEP_MILLIS);
        }
        throw new AssertionError("never happened: " + what);
    }
}
