package io.evenwarm.agent.rehearsal;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CancellationException;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.BooleanSupplier;
import java.util.function.IntConsumer;
import java.util.function.IntFunction;

/** Runs that do not depend on one another, on several threads, in an order that they don't show. */
public final class SeededRuns {

    private SeededRuns() {}

    /**
     * Makes {@code count} runs and gives those that came to their end, in the order of their
     * numbers: what comes out is the same for any number of threads.
     *
     * @param count how many; 0 or more
     * @param threads on so many; 1 or more
     * @param run makes the run of a number, 0 to count − 1; may be called by any of the threads.
     *     May throw {@link CancellationException} once {@code isStopped}
     * @param isStopped no run is begun once it is true
     * @param progress told how many have ended; one call at a time
     */
    public static <T> List<T> all(
            int count,
            int threads,
            IntFunction<T> run,
            BooleanSupplier isStopped,
            IntConsumer progress) {
        ExecutorService pool =
                Executors.newFixedThreadPool(
                        threads,
                        work -> {
                            Thread thread = new Thread(work, "rehearsal");
                            thread.setDaemon(true);
                            return thread;
                        });
        try {
            AtomicInteger ended = new AtomicInteger();
            List<Future<Optional<T>>> futures = new ArrayList<>(count);
            for (int i = 0; i < count; i++) {
                int number = i;
                futures.add(
                        pool.submit(
                                () -> {
                                    Optional<T> made = one(run, number, isStopped);
                                    if (made.isPresent()) {
                                        synchronized (ended) {
                                            progress.accept(ended.incrementAndGet());
                                        }
                                    }
                                    return made;
                                }));
            }
            List<T> results = new ArrayList<>(count);
            for (Future<Optional<T>> future : futures) {
                result(future).ifPresent(results::add);
            }
            return List.copyOf(results);
        } finally {
            pool.shutdownNow();
        }
    }

    private static <T> Optional<T> one(IntFunction<T> run, int number, BooleanSupplier isStopped) {
        if (isStopped.getAsBoolean()) {
            return Optional.empty();
        }
        try {
            return Optional.of(run.apply(number));
        } catch (CancellationException e) {
            return Optional.empty();
        }
    }

    private static <T> Optional<T> result(Future<Optional<T>> future) {
        try {
            return future.get();
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            return Optional.empty();
        } catch (ExecutionException e) {
            throw new IllegalStateException("a rehearsal failed", e.getCause());
        }
    }
}
