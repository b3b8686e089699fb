package io.evenwarm.monitor.intake;

import io.evenwarm.link.Link;
import io.evenwarm.link.LinkException;
import io.evenwarm.message.AgentName;
import io.evenwarm.message.Command;
import io.evenwarm.message.CommandOutcome;
import io.evenwarm.monitor.live.LiveModel.LinkState;
import java.time.Duration;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import org.jspecify.annotations.Nullable;

/**
 * Keeps one agent connected. {@link #run} is its thread's body; {@link #submit}, {@link #watch} and
 * {@link #stop} are for others.
 */
final class AgentWorker implements Runnable {

    private static final System.Logger LOG = System.getLogger(AgentWorker.class.getName());

    /** A session this long was a real one: what ends it is a first failure. */
    private static final Duration STEADY_AFTER = Duration.ofSeconds(10);

    private final IntakeContext context;
    private final AgentAddress agent;
    private final Backoff backoff;
    private final PendingCommands commands = new PendingCommands();
    private final Object lock = new Object();

    /** Guarded by {@link #lock}. */
    private boolean isStopping;

    /** Guarded by {@link #lock}: the link in use. */
    private @Nullable Link current;

    private volatile String whyClosed = "not connected yet";
    private volatile long progressNanos;

    AgentWorker(IntakeContext context, AgentAddress agent) {
        this(context, agent, new Backoff(context.seed() ^ agent.name().value().hashCode()));
    }

    AgentWorker(IntakeContext context, AgentAddress agent, Backoff backoff) {
        this.context = context;
        this.agent = agent;
        this.backoff = backoff;
    }

    AgentName name() {
        return agent.name();
    }

    @Override
    public void run() {
        while (!isStopping()) {
            Duration wait = connectOnce();
            synchronized (lock) {
                try {
                    if (!isStopping) {
                        TimeUnit.NANOSECONDS.timedWait(lock, wait.toNanos());
                    }
                } catch (InterruptedException e) {
                    Thread.currentThread().interrupt();
                    return;
                }
            }
        }
    }

    /** One link from its opening to its end; returns how long to wait before the next. */
    private Duration connectOnce() {
        long begin = context.clock().nanos();
        boolean greeted = false;
        tell(LinkState.down("connecting to " + agent.where()));
        try (Link link = agent.opener().open()) {
            use(link);
            Session session = new Session(context, agent, commands, link);
            session.greet();
            greeted = true;
            LOG.log(System.Logger.Level.INFO, "connected to {0} at {1}", name(), agent.where());
            session.run(this::isStopping, () -> progressNanos = context.clock().nanos());
            tell(LinkState.down("ended"));
            return Duration.ZERO;
        } catch (LinkException e) {
            if (context.clock().nanos() - begin > STEADY_AFTER.toNanos()) {
                backoff.reset();
            }
            Duration wait = backoff.next();
            failed(
                    (greeted ? "lost " : "can't reach ") + agent.where() + ": " + e.getMessage(),
                    wait);
            return wait;
        } catch (RuntimeException e) {
            // Our own mistake, met with one message of one agent: it must not end the worker.
            LOG.log(System.Logger.Level.ERROR, "the session with " + name() + " failed", e);
            Duration wait = backoff.next();
            failed("the session failed (" + e + ")", wait);
            return wait;
        } finally {
            use(null);
            commands.close(whyClosed);
        }
    }

    private void failed(String words, Duration wait) {
        tell(LinkState.downUntil(words, context.clock().nanos() + wait.toNanos()));
        if (!isStopping()) {
            LOG.log(
                    System.Logger.Level.INFO,
                    "{0}: {1}; next try in {2} ms",
                    name(),
                    words,
                    wait.toMillis());
        }
    }

    private void tell(LinkState state) {
        whyClosed = state.words();
        context.live().linkChanged(agent.name(), state);
    }

    private void use(@Nullable Link link) {
        progressNanos = context.clock().nanos();
        synchronized (lock) {
            current = link;
            if (isStopping && link != null) {
                link.close();
            }
        }
    }

    private boolean isStopping() {
        synchronized (lock) {
            return isStopping;
        }
    }

    CompletableFuture<CommandOutcome> submit(Command command) {
        return commands.add(command, context.clock().nanos(), whyClosed);
    }

    /**
     * Closes a link on which the worker is stuck: a send blocks while the other side reads nothing.
     */
    void watch(long nowNanos) {
        synchronized (lock) {
            if (current != null && nowNanos - progressNanos > Session.DEAD_AFTER.toNanos()) {
                LOG.log(System.Logger.Level.WARNING, "{0} takes nothing; closing", name());
                current.close();
            }
        }
    }

    /** Asks the worker to say goodbye and end. */
    void stop() {
        synchronized (lock) {
            isStopping = true;
            lock.notifyAll();
        }
    }

    /** Ends what {@link #stop} did not end in time. */
    void stopNow() {
        synchronized (lock) {
            if (current != null) {
                current.close();
            }
        }
    }
}
