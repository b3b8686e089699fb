package io.evenwarm.monitor.intake;

import java.time.Duration;
import java.util.Random;

/**
 * How long to wait before the next try: 1, 2, 4, 8, 16, then always 30 s, each up to a fifth
 * shorter or longer by chance, so that monitors that lost an agent together don't come back
 * together. Used by one thread.
 */
final class Backoff {

    private static final long FIRST_MILLIS = 1000;
    private static final long MILLIS_MAX = 30_000;
    private static final double JITTER = 0.2;

    private final Random random;
    private final long firstMillis;
    private int failures;

    Backoff(long seed) {
        this(seed, FIRST_MILLIS);
    }

    /** As the other, with another first wait. */
    Backoff(long seed, long firstMillis) {
        random = new Random(seed);
        this.firstMillis = firstMillis;
    }

    /** The wait after one more failure. */
    Duration next() {
        long base = Math.min(MILLIS_MAX, firstMillis << Math.min(failures, 10));
        failures++;
        double share = 1 + JITTER * (2 * random.nextDouble() - 1);
        return Duration.ofMillis(Math.round(base * share));
    }

    /** The link worked: the next failure is the first again. */
    void reset() {
        failures = 0;
    }
}
