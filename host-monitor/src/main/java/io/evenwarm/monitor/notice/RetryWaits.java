package io.evenwarm.monitor.notice;

import java.time.Duration;
import java.util.Random;

/**
 * How long to wait after a try that failed: 5, 10, 20 … s up to 10 min, each up to a fifth shorter
 * or longer by chance, so that what failed together does not come back together. At least what the
 * other side asked for, up to an hour.
 */
final class RetryWaits {

    static final Duration FIRST = Duration.ofSeconds(5);
    static final Duration LONGEST = Duration.ofMinutes(10);
    static final Duration ASKED_MAX = Duration.ofHours(1);
    private static final double JITTER = 0.2;

    private final Random random;

    RetryWaits(long seed) {
        random = new Random(seed);
    }

    /**
     * The wait.
     *
     * @param tries that failed so far, at least 1
     * @param asked what the other side asked for
     */
    Duration after(int tries, Duration asked) {
        long base = Math.min(LONGEST.toMillis(), FIRST.toMillis() << Math.min(tries - 1, 10));
        double share = 1 + JITTER * (2 * random.nextDouble() - 1);
        Duration own = Duration.ofMillis(Math.round(base * share));
        Duration wanted = asked.compareTo(ASKED_MAX) > 0 ? ASKED_MAX : asked;
        return own.compareTo(wanted) > 0 ? own : wanted;
    }
}
