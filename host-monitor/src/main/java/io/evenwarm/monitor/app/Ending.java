package io.evenwarm.monitor.app;

import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;

/** Why and how a command that runs until something ends it is to end. The first reason counts. */
final class Ending {

    /**
     * How a command ends.
     *
     * @param exitCode 0 done, 1 the answer is no
     * @param words for standard error, where there is something to say
     */
    record Outcome(int exitCode, Optional<String> words) {}

    private final CompletableFuture<Outcome> outcome = new CompletableFuture<>();

    /** As asked: by a closed window, a signal, a time that is over. */
    void done() {
        outcome.complete(new Outcome(0, Optional.empty()));
    }

    /** Otherwise than asked. */
    void failed(String words) {
        outcome.complete(new Outcome(1, Optional.of(words)));
    }

    /** Waits for the end. */
    Outcome await() {
        return await(Long.MAX_VALUE).orElseThrow();
    }

    /** Waits for the end, at most so long. */
    Optional<Outcome> await(long millisMax) {
        try {
            return Optional.of(outcome.get(millisMax, TimeUnit.MILLISECONDS));
        } catch (TimeoutException e) {
            return Optional.empty();
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            return Optional.of(new Outcome(1, Optional.of("interrupted")));
        } catch (ExecutionException e) {
            throw new IllegalStateException("never completed so", e);
        }
    }
}
