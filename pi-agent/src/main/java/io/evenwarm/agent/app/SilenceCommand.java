package io.evenwarm.agent.app;

import io.evenwarm.message.Command.Silence;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code silence}. */
@Command(
        name = "silence",
        description = {
            "Silences a cabinet's buzzer until something new is found.",
            "1 when the agent refuses or does not answer."
        })
final class SilenceCommand implements Callable<Integer> {

    @Spec private CommandSpec spec;
    @Mixin private AgentChoice agent;

    @Parameters(paramLabel = "CABINET", description = "the cabinet's name")
    private String cabinet;

    @Option(names = "--json", description = "print one JSON object")
    private boolean json;

    @Override
    public Integer call() {
        return LocalTalk.command(spec.commandLine(), agent, cabinet, json, Silence::new);
    }
}
