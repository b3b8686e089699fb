package io.evenwarm.monitor.app;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.monitor.evenness.Wording;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;
import java.util.function.Function;
import java.util.function.Supplier;

/**
 * Looks at a cabinet's newest readings again and again until what is looked for is there, and says
 * meanwhile why it waits: at most each minute, and only what is new.
 *
 * @param newest the cabinet's newest moment
 * @param most for so long at most
 * @param tell takes a line
 */
record LiveLook(
        MonotonicClock clock,
        Supplier<Instant> newest,
        Duration most,
        Wording wording,
        Consumer<String> tell) {

    private static final long LOOK_SECONDS = 5;

    /** A long record takes long to look at: no more than a tenth of the time. */
    private static final int PAUSE_LOOKS = 9;

    private static final long TELL_SECONDS_MIN = 60;

    /** Readings come each 5 s and are committed each 10 s. */
    private static final Duration SILENT = Duration.ofSeconds(60);

    /**
     * What one look came to.
     *
     * @param found what is looked for, once it is there
     * @param words why it is not, for a person
     */
    record Seen<T>(Optional<T> found, String words) {}

    /** Returns what was found; empty when it was not there in time, or the thread was ended. */
    <T> Optional<T> await(Instant begin, Function<Instant, Seen<T>> look) {
        long began = clock.nanos();
        long toldNanos = 0;
        long changedNanos = began;
        Instant last = begin;
        String told = "";
        while (true) {
            long lookNanos = clock.nanos();
            Instant now = newest.get();
            if (now.isAfter(last)) {
                last = now;
                changedNanos = lookNanos;
            }
            Seen<T> seen = look.apply(now);
            if (seen.found().isPresent()) {
                return seen.found();
            }
            boolean isSilent = clock.nanos() - changedNanos > SILENT.toNanos();
            String words =
                    isSilent
                            ? "No new reading since "
                                    + wording.time(last)
                                    + ": is a monitor running, and its agent connected?"
                            : seen.words();
            boolean isTime =
                    told.isEmpty()
                            || clock.nanos() - toldNanos
                                    > TimeUnit.SECONDS.toNanos(TELL_SECONDS_MIN);
            if (isTime && !words.equals(told)) {
                tell.accept("  " + words);
                told = words;
                toldNanos = clock.nanos();
            }
            if (clock.nanos() - began > most.toNanos()) {
                return Optional.empty();
            }
            try {
                TimeUnit.NANOSECONDS.sleep(
                        Math.max(
                                TimeUnit.SECONDS.toNanos(LOOK_SECONDS),
                                PAUSE_LOOKS * (clock.nanos() - lookNanos)));
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
                return Optional.empty();
            }
        }
    }
}
