package io.evenwarm.agent.app;

import io.evenwarm.message.Command.ResetCutOff;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code reset}. */
@Command(
        name = "reset",
        description = {
            "Resets a cabinet's cut-off, once its cause is found and gone.",
            "1 when the agent refuses or does not answer."
        })
final class ResetCommand implements Callable<Integer> {

    @Spec private CommandSpec spec;
    @Mixin private AgentChoice agent;

    @Parameters(paramLabel = "CABINET", description = "the cabinet's name")
    private String cabinet;

    @Option(names = "--json", description = "print one JSON object")
    private boolean json;

    @Override
    public Integer call() {
        return LocalTalk.command(spec.commandLine(), agent, cabinet, json, ResetCutOff::new);
    }
}
