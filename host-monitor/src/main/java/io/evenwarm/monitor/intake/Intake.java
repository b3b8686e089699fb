package io.evenwarm.monitor.intake;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.message.AgentName;
import io.evenwarm.message.Command;
import io.evenwarm.message.CommandOutcome;
import io.evenwarm.monitor.live.CommandSender;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;

/**
 * The links to all agents of the settings, from {@link #start} to {@link #close}. Whatever happens
 * to one agent, its link is tried again until then.
 *
 * <p>Threads: any may call. Each agent has a worker thread of its own, so that a slow one holds up
 * nobody; all are daemons.
 */
public final class Intake implements CommandSender, AutoCloseable {

    private static final long WATCH_SECONDS = 1;
    private static final long GOODBYE_MILLIS_MAX = 500;
    private static final long END_MILLIS_MAX = 500;

    private final List<AgentWorker> workers;
    private final List<Thread> threads;
    private final ScheduledExecutorService watch;
    private final Future<?> watching;
    private final MonotonicClock clock;

    private Intake(
            List<AgentWorker> workers,
            List<Thread> threads,
            ScheduledExecutorService watch,
            Future<?> watching,
            MonotonicClock clock) {
        this.workers = workers;
        this.threads = threads;
        this.watch = watch;
        this.watching = watching;
        this.clock = clock;
    }

    /** Starts to connect to every agent. Returns at once. */
    public static Intake start(IntakeContext context, List<AgentAddress> agents) {
        List<AgentWorker> workers = new ArrayList<>();
        List<Thread> threads = new ArrayList<>();
        for (AgentAddress agent : agents) {
            AgentWorker worker = new AgentWorker(context, agent);
            Thread thread = new Thread(worker, "intake " + agent.name());
            thread.setDaemon(true);
            workers.add(worker);
            threads.add(thread);
        }
        ScheduledExecutorService watch =
                Executors.newSingleThreadScheduledExecutor(
                        body -> {
                            Thread thread = new Thread(body, "intake watch");
                            thread.setDaemon(true);
                            return thread;
                        });
        Future<?> watching =
                watch.scheduleAtFixedRate(
                        () -> workers.forEach(worker -> worker.watch(context.clock().nanos())),
                        WATCH_SECONDS,
                        WATCH_SECONDS,
                        TimeUnit.SECONDS);
        threads.forEach(Thread::start);
        return new Intake(
                List.copyOf(workers), List.copyOf(threads), watch, watching, context.clock());
    }

    @Override
    public CompletableFuture<CommandOutcome> send(AgentName agent, Command command) {
        for (AgentWorker worker : workers) {
            if (worker.name().equals(agent)) {
                return worker.submit(command);
            }
        }
        return CompletableFuture.completedFuture(
                new CommandOutcome.Refused(
                        "not asked: no agent \"" + agent + "\" in the settings"));
    }

    /** Says goodbye to every agent and ends the workers, within about a second. */
    @Override
    public void close() {
        watching.cancel(true);
        watch.shutdownNow();
        workers.forEach(AgentWorker::stop);
        join(GOODBYE_MILLIS_MAX);
        workers.forEach(AgentWorker::stopNow);
        threads.forEach(Thread::interrupt);
        join(END_MILLIS_MAX);
    }

    /** Waits for all workers together. */
    private void join(long millisMax) {
        long end = clock.nanos() + TimeUnit.MILLISECONDS.toNanos(millisMax);
        try {
            for (Thread thread : threads) {
                long left = TimeUnit.NANOSECONDS.toMillis(end - clock.nanos());
                if (left > 0) {
                    thread.join(left);
                }
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }
}
