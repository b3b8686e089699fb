package io.evenwarm.agent.app;

import io.evenwarm.codec.JsonText;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** {@code outputs-off}. */
@Command(
        name = "outputs-off",
        description = {
            "Drives every configured output off and ends.",
            "For the service manager, after every end of the agent: the kernel keeps a line's last"
                    + " level when the agent is killed. Works with a faulty configuration too.",
            "0 when all are off; 1 when one could not be driven off; 2 when the file can't be read."
        })
final class OutputsOffCommand implements Callable<Integer> {

    @Spec private CommandSpec spec;

    @Option(
            names = "--config",
            required = true,
            paramLabel = "FILE",
            description = "the configuration file")
    private Path config;

    @Option(names = "--json", description = "print one JSON object")
    private boolean json;

    @Override
    public Integer call() {
        Optional<List<OutputsOff.Line>> result = OutputsOff.drive(config);
        List<OutputsOff.Line> lines = result.orElse(List.of());
        boolean allOff = lines.stream().allMatch(line -> line.failure().isEmpty());
        PrintWriter err = spec.commandLine().getErr();
        if (result.isEmpty()) {
            err.println(
                    "evenwarm-agent: "
                            + config
                            + " can't be read, so that no line is known: OUTPUTS MAY BE ON. Switch"
                            + " the heaters off by hand, then run: evenwarm-agent check --config "
                            + config);
        }
        if (json) {
            Map<String, Object> object = new LinkedHashMap<>();
            object.put("allOff", result.isPresent() && allOff);
            object.put("lines", lines.stream().map(OutputsOffCommand::asMap).toList());
            spec.commandLine().getOut().println(JsonText.object(object));
        } else {
            for (OutputsOff.Line line : lines) {
                line.failure()
                        .ifPresentOrElse(
                                why ->
                                        err.println(
                                                "evenwarm-agent: "
                                                        + line.line()
                                                        + " MAY BE ON: "
                                                        + why),
                                () -> spec.commandLine().getOut().println(line.line() + " is off"));
            }
        }
        if (result.isEmpty()) {
            return ExitCode.BAD_INPUT;
        }
        return allOff ? ExitCode.DONE : ExitCode.NO;
    }

    private static Map<String, Object> asMap(OutputsOff.Line line) {
        Map<String, Object> map = new LinkedHashMap<>();
        map.put("line", line.line());
        map.put("off", line.failure().isEmpty());
        map.put("failure", line.failure());
        return map;
    }
}
