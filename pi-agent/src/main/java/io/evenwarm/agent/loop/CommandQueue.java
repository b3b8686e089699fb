package io.evenwarm.agent.loop;

import io.evenwarm.agent.port.CommandIntake;
import io.evenwarm.message.Command;
import io.evenwarm.message.CommandOutcome;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.function.Consumer;
import org.jspecify.annotations.Nullable;

/**
 * Commands that wait for the next tick. Holds {@value #CAPACITY}; more are refused in words, in the
 * thread of whoever hands them in.
 */
final class CommandQueue implements CommandIntake {

    static final int CAPACITY = 32;

    private static final CommandOutcome STOPPING =
            new CommandOutcome.Refused("The agent is stopping.");

    private final ArrayBlockingQueue<Waiting> queue = new ArrayBlockingQueue<>(CAPACITY);
    private volatile boolean isClosed;

    @Override
    public void submit(Command command, Consumer<CommandOutcome> answer) {
        if (isClosed) {
            answer.accept(STOPPING);
            return;
        }
        if (!queue.offer(new Waiting(command, answer))) {
            answer.accept(
                    new CommandOutcome.Refused(
                            "Too many commands are waiting ("
                                    + CAPACITY
                                    + "). Try again in a few seconds."));
            return;
        }
        if (isClosed) {
            // Closed in between: whoever takes it off the queue answers it.
            refuseAll();
        }
    }

    /** The next command, or null when none waits. */
    @Nullable Waiting next() {
        return queue.poll();
    }

    /** Refuses all that waits and all that comes. */
    void close() {
        isClosed = true;
        refuseAll();
    }

    private void refuseAll() {
        for (Waiting waiting = queue.poll(); waiting != null; waiting = queue.poll()) {
            waiting.answer().accept(STOPPING);
        }
    }

    record Waiting(Command command, Consumer<CommandOutcome> answer) {}
}
