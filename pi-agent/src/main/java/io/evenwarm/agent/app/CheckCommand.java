package io.evenwarm.agent.app;

import io.evenwarm.codec.JsonText;
import io.evenwarm.settings.SettingsFault;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** {@code check}. */
@Command(
        name = "check",
        description = {
            "Checks a configuration and names every fault in it.",
            "0 when it can be run, though there may be warnings; 2 when it can't."
        })
final class CheckCommand implements Callable<Integer> {

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
        ConfigurationResult result = ConfigurationReader.read(config);
        List<SettingsFault> errors =
                result.fold(accepted -> List.of(), ConfigurationResult.Rejected::errors);
        PrintWriter out = spec.commandLine().getOut();
        if (json) {
            Map<String, Object> object = new LinkedHashMap<>();
            object.put("file", config.toString());
            object.put("canRun", errors.isEmpty());
            object.put("errors", errors.stream().map(CheckCommand::asMap).toList());
            object.put("warnings", result.warnings().stream().map(CheckCommand::asMap).toList());
            out.println(JsonText.object(object));
        } else {
            print(out, errors, result.warnings());
            String summary = result.fold(this::summary, this::summary);
            out.println(summary);
        }
        return errors.isEmpty() ? ExitCode.DONE : ExitCode.BAD_INPUT;
    }

    /** Prints faults as a keeper reads them. */
    static void print(
            PrintWriter writer, List<SettingsFault> errors, List<SettingsFault> warnings) {
        errors.forEach(fault -> writer.println(fault.text()));
        warnings.forEach(fault -> writer.println(fault.text()));
    }

    private String summary(ConfigurationResult.Accepted accepted) {
        AgentConfiguration configuration = accepted.configuration();
        int probes =
                configuration.cabinets().stream()
                        .mapToInt(cabinet -> cabinet.probes().size())
                        .sum();
        return config
                + " can be run: agent \""
                + configuration.name()
                + "\", "
                + counted(configuration.cabinets().size(), "cabinet")
                + ", "
                + counted(probes, "probe")
                + ", "
                + counted(accepted.warnings().size(), "warning");
    }

    private String summary(ConfigurationResult.Rejected rejected) {
        return config
                + " can't be run: "
                + counted(rejected.errors().size(), "error")
                + ", "
                + counted(rejected.warnings().size(), "warning");
    }

    private static String counted(int count, String what) {
        return count + " " + what + (count == 1 ? "" : "s");
    }

    private static Map<String, Object> asMap(SettingsFault fault) {
        Map<String, Object> map = new LinkedHashMap<>();
        map.put("file", fault.file());
        map.put("line", fault.line());
        map.put("key", fault.key());
        map.put("found", fault.found());
        map.put(fault.isError() ? "allowed" : "meaning", fault.allowed());
        return map;
    }
}
