package io.evenwarm.agent.app;

import io.evenwarm.codec.JsonText;
import java.io.IOException;
import java.nio.file.Path;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** {@code identity}. */
@Command(
        name = "identity",
        description = {
            "Prints the key that monitors know this agent by, and makes it if there is none yet.",
            "1 when it can't be read or made."
        })
final class IdentityCommand implements Callable<Integer> {

    @Spec private CommandSpec spec;
    @Mixin private AgentChoice agent;

    @Option(names = "--json", description = "print one JSON object")
    private boolean json;

    @Override
    public Integer call() {
        Optional<String> fault = agent.fault();
        if (fault.isPresent()) {
            spec.commandLine().getErr().println("evenwarm-agent: " + fault.get());
            return ExitCode.BAD_INPUT;
        }
        Path folder = agent.stateFolder();
        try {
            StateFolder.make(folder);
            String key = StateFolder.identity(folder).pin().toString();
            spec.commandLine().getOut().println(json ? JsonText.object(Map.of("key", key)) : key);
            return ExitCode.DONE;
        } catch (IOException e) {
            spec.commandLine()
                    .getErr()
                    .println(
                            "evenwarm-agent: the identity in "
                                    + folder
                                    + " can't be read or made: "
                                    + Failures.words(e));
            return ExitCode.NO;
        }
    }
}
