package io.evenwarm.agent.port;

import io.evenwarm.message.Command;
import io.evenwarm.message.CommandOutcome;
import java.util.function.Consumer;

/** Takes commands from any thread; they are carried out at the start of a tick. */
@FunctionalInterface
public interface CommandIntake {

    /**
     * Hands a command in. Returns at once.
     *
     * @param answer gets the outcome exactly once, from the control thread or, when the queue is
     *     full, from the caller's; must not block
     */
    void submit(Command command, Consumer<CommandOutcome> answer);
}
