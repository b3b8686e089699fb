package io.evenwarm.monitor.notice;

import java.time.Duration;
import java.util.function.Function;

/** What came of handing a notice over. Its words are for people and logs, and hold no secrets. */
public sealed interface Delivery {

    /** Handles every case. */
    <R> R fold(
            Function<Delivered, R> delivered,
            Function<TryAgain, R> tryAgain,
            Function<Refused, R> refused);

    /** What was answered, or why it failed. */
    String words();

    /**
     * The other side has it.
     *
     * @param words what it answered
     */
    record Delivered(String words) implements Delivery {
        @Override
        public <R> R fold(
                Function<Delivered, R> delivered,
                Function<TryAgain, R> tryAgain,
                Function<Refused, R> refused) {
            return delivered.apply(this);
        }
    }

    /**
     * Not now.
     *
     * @param words why
     * @param notBefore how long to wait at least; zero when the other side didn't say
     */
    record TryAgain(String words, Duration notBefore) implements Delivery {
        @Override
        public <R> R fold(
                Function<Delivered, R> delivered,
                Function<TryAgain, R> tryAgain,
                Function<Refused, R> refused) {
            return tryAgain.apply(this);
        }
    }

    /**
     * The same again would be refused again.
     *
     * @param words why
     */
    record Refused(String words) implements Delivery {
        @Override
        public <R> R fold(
                Function<Delivered, R> delivered,
                Function<TryAgain, R> tryAgain,
                Function<Refused, R> refused) {
            return refused.apply(this);
        }
    }
}
