package io.evenwarm.agent.app;

import java.util.concurrent.Callable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.IVersionProvider;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ScopeType;
import picocli.CommandLine.Spec;

/** The command line of {@code evenwarm-agent}. */
@Command(
        name = "evenwarm-agent",
        description = "Keeps incubation cabinets even and warm, beside the cabinets.",
        mixinStandardHelpOptions = true,
        scope = ScopeType.INHERIT,
        versionProvider = AgentCommand.Version.class,
        synopsisSubcommandLabel = "COMMAND",
        footer = {
            "",
            "Exit codes: 0 done, 1 the answer is no, 2 bad input or usage.",
        },
        subcommands = {
            RunCommand.class,
            CheckCommand.class,
            ProbesCommand.class,
            StatusCommand.class,
            ResetCommand.class,
            SilenceCommand.class,
            TuneCommand.class,
            WorkCommand.class,
            PairCommand.class,
            IdentityCommand.class,
            OutputsOffCommand.class,
            RehearseCommand.class,
            SimulateCommand.class,
            PastCommand.class,
            BenchCommand.class,
        })
final class AgentCommand implements Callable<Integer> {

    @Spec private CommandSpec spec;

    @Override
    public Integer call() {
        CommandLine commandLine = spec.commandLine();
        commandLine.getErr().println("evenwarm-agent: which command?");
        commandLine.usage(commandLine.getErr());
        return ExitCode.BAD_INPUT;
    }

    /** The version of the jar that this runs from. */
    static final class Version implements IVersionProvider {
        @Override
        public String[] getVersion() {
            return new String[] {"evenwarm-agent " + text()};
        }

        static String text() {
            String version = AgentCommand.class.getPackage().getImplementationVersion();
            return version == null ? "unpackaged" : version;
        }
    }
}
