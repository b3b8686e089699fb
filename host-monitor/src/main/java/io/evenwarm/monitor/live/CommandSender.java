package io.evenwarm.monitor.live;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.Command;
import io.evenwarm.message.CommandOutcome;
import java.util.concurrent.CompletableFuture;

/** Sends a person's command to an agent. */
@FunctionalInterface
public interface CommandSender {

    /**
     * Returns at once; the future completes with the agent's answer, or with a refusal that says
     * why the agent could not be asked. It never completes exceptionally.
     */
    CompletableFuture<CommandOutcome> send(AgentName agent, Command command);
}
