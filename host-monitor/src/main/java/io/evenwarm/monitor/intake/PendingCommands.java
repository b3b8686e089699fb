package io.evenwarm.monitor.intake;

import io.evenwarm.link.Link;
import io.evenwarm.link.LinkException;
import io.evenwarm.message.Command;
import io.evenwarm.message.CommandOutcome;
import io.evenwarm.message.Message;
import java.time.Duration;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.HashMap;
import java.util.Iterator;
import java.util.Map;
import java.util.concurrent.CompletableFuture;
import org.jspecify.annotations.Nullable;

/**
 * Commands on their way to one agent. At most {@value #WAITING_MAX} wait; a further one is refused,
 * since a person who asks that often sees no answers.
 *
 * <p>Threads: any may {@link #add}; the rest is the worker's. Futures complete on a pool's thread,
 * so that what hangs on them can't hold up the link.
 */
final class PendingCommands {

    static final int WAITING_MAX = 16;

    /** An agent answers within a tick or two; longer means that something is wrong. */
    static final Duration ANSWER_TIME_MAX = Duration.ofSeconds(10);

    private record Asked(Command command, CompletableFuture<CommandOutcome> future, long atNanos) {}

    private final Object lock = new Object();

    /** Guarded by {@link #lock}. */
    private final Deque<Asked> waiting = new ArrayDeque<>();

    /** Guarded by {@link #lock}: whether a session takes commands now. */
    private boolean isOpen;

    /** Used by the worker only. */
    private final Map<Long, Asked> sent = new HashMap<>();

    private long lastId;

    CompletableFuture<CommandOutcome> add(Command command, long nowNanos, String whyClosed) {
        synchronized (lock) {
            if (!isOpen) {
                return refused("not asked: " + whyClosed);
            }
            if (waiting.size() >= WAITING_MAX) {
                return refused("not asked: too many commands are waiting already");
            }
            CompletableFuture<CommandOutcome> future = new CompletableFuture<>();
            waiting.add(new Asked(command, future, nowNanos));
            return future;
        }
    }

    void open() {
        synchronized (lock) {
            isOpen = true;
        }
    }

    /** Sends what waits. */
    void sendWaiting(Link link) throws LinkException {
        Asked next;
        while ((next = poll()) != null) {
            long id = ++lastId;
            sent.put(id, next);
            link.send(new Message.CommandRequest(id, next.command));
        }
    }

    private @Nullable Asked poll() {
        synchronized (lock) {
            return waiting.poll();
        }
    }

    /** An answer came. One that nobody waits for any more is passed over. */
    void answered(Message.CommandAnswer answer) {
        Asked asked = sent.remove(answer.id());
        if (asked != null) {
            complete(asked, answer.outcome());
        }
    }

    /** Gives up on answers that are overdue. */
    void expire(long nowNanos) {
        Iterator<Asked> all = sent.values().iterator();
        while (all.hasNext()) {
            Asked asked = all.next();
            if (nowNanos - asked.atNanos > ANSWER_TIME_MAX.toNanos()) {
                all.remove();
                complete(
                        asked,
                        new CommandOutcome.Refused(
                                "no answer within "
                                        + ANSWER_TIME_MAX.toSeconds()
                                        + " s. It may still be carried out: look at the cabinet"
                                        + " before you ask again"));
            }
        }
    }

    /** The link is gone. */
    void close(String why) {
        Deque<Asked> never;
        synchronized (lock) {
            isOpen = false;
            never = new ArrayDeque<>(waiting);
            waiting.clear();
        }
        never.forEach(asked -> complete(asked, new CommandOutcome.Refused("not asked: " + why)));
        sent.values()
                .forEach(
                        asked ->
                                complete(
                                        asked,
                                        new CommandOutcome.Refused(
                                                "the link was lost before the answer came. It may"
                                                        + " have been carried out: look at the"
                                                        + " cabinet before you ask again")));
        sent.clear();
    }

    private static CompletableFuture<CommandOutcome> refused(String words) {
        return CompletableFuture.completedFuture(new CommandOutcome.Refused(words));
    }

    private static void complete(Asked asked, CommandOutcome outcome) {
        asked.future.completeAsync(() -> outcome);
    }
}
