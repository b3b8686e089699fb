package io.evenwarm.agent.app;

import io.evenwarm.message.Command.EndPlannedWork;
import io.evenwarm.message.Command.StartPlannedWork;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code work}. */
@Command(
        name = "work",
        description = {
            "Says that you work at a cabinet: an open door and cold air are not reported meanwhile.",
            "Ends by itself. 1 when the agent refuses or does not answer."
        })
final class WorkCommand implements Callable<Integer> {

    @Spec private CommandSpec spec;
    @Mixin private AgentChoice agent;

    @Parameters(paramLabel = "CABINET", description = "the cabinet's name")
    private String cabinet;

    @Option(
            names = "--minutes",
            paramLabel = "N",
            defaultValue = "15",
            description = "for how long, 1 to 30; ${DEFAULT-VALUE} when not given")
    private int minutes;

    @Option(names = "--end", description = "end it now instead")
    private boolean end;

    @Option(names = "--json", description = "print one JSON object")
    private boolean json;

    @Override
    public Integer call() {
        return LocalTalk.command(
                spec.commandLine(),
                agent,
                cabinet,
                json,
                name -> end ? new EndPlannedWork(name) : new StartPlannedWork(name, minutes));
    }
}
