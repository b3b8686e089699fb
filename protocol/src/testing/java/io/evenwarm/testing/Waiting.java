package io.evenwarm.testing;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.SystemClock;
import java.util.concurrent.TimeUnit;
import java.util.function.BooleanSupplier;
import java.util.function.Supplier;

/** Waits for what other threads or processes do, no longer than needed. */
public final class Waiting {

    private static final long POLL_MILLIS = 5;
    private static final int SHORT_SECONDS_MAX = 20;

    private Waiting() {}

    /**
     * Waits until the condition holds.
     *
     * @param secondsMax generous: it is only for a test that fails anyway
     * @param why what to say when it never holds
     */
    public static void until(int secondsMax, BooleanSupplier condition, Supplier<String> why) {
        MonotonicClock clock = SystemClock.monotonic();
        long end = clock.nanos() + TimeUnit.SECONDS.toNanos(secondsMax);
        while (!condition.getAsBoolean()) {
            if (clock.nanos() - end > 0) {
                throw new AssertionError("not within " + secondsMax + " s: " + why.get());
            }
            millis(POLL_MILLIS);
        }
    }

    /** Waits up to 20 s until the condition holds: for what takes no time to speak of. */
    public static void until(String what, BooleanSupplier condition) {
        until(SHORT_SECONDS_MAX, condition, () -> "never happened: " + what);
    }

    /** Waits so long. */
    public static void millis(long millis) {
        try {
            TimeUnit.MILLISECONDS.sleep(millis);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new AssertionError("interrupted", e);
        }
    }
}
