package io.evenwarm.agent.app;

import io.evenwarm.clock.SystemClock;
import io.evenwarm.codec.JsonText;
import io.evenwarm.settings.SettingsFault;
import io.evenwarm.settings.SettingsResult;
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

/** {@code check}. */
@Command(
        name = "check",
        description = {
            "Checks a configuration and names every fault in it.",
            "With --hardware, also looks at what it names: finds the buses and lines, reads each probe"
                    + " once, drives nothing, and says of each cabinet whether it may be heated.",
            "0 when it can be run, though there may be warnings; 1 when hardware is missing or heat"
                    + " is refused; 2 when it can't be run."
        })
final class CheckCommand implements Callable<Integer> {

    @Spec private CommandSpec spec;

    @Option(
            names = "--config",
            required = true,
            paramLabel = "FILE",
            description = "the configuration file")
    private Path config;

    @Option(names = "--hardware", description = "look at the hardware too; takes some seconds")
    private boolean hardware;

    @Option(names = "--json", description = "print one JSON object")
    private boolean json;

    @Override
    public Integer call() {
        SettingsResult<AgentConfiguration> result = ConfigurationReader.read(config);
        List<SettingsFault> errors =
                result.fold(accepted -> List.of(), SettingsResult.Rejected::errors);
        PrintWriter out = spec.commandLine().getOut();
        Optional<HardwareCheck> checked =
                hardware
                        ? result.fold(
                                accepted -> Optional.of(look(accepted.value())),
                                rejected -> Optional.empty())
                        : Optional.empty();
        if (json) {
            Map<String, Object> object = new LinkedHashMap<>();
            object.put("file", config.toString());
            object.put("canRun", errors.isEmpty());
            object.put("errors", errors.stream().map(CheckCommand::asMap).toList());
            object.put("warnings", result.warnings().stream().map(CheckCommand::asMap).toList());
            checked.ifPresent(there -> object.put("hardware", HardwareText.json(there)));
            out.println(JsonText.object(object));
        } else {
            print(out, errors, result.warnings());
            checked.ifPresent(there -> HardwareText.lines(there).forEach(out::println));
            String summary = result.fold(this::summary, this::summary);
            out.println(summary);
        }
        if (!errors.isEmpty()) {
            return ExitCode.BAD_INPUT;
        }
        return checked.map(HardwareCheck::isWell).orElse(true) ? ExitCode.DONE : ExitCode.NO;
    }

    private static HardwareCheck look(AgentConfiguration configuration) {
        LogSetup.leaveOutDrivers();
        Optional<String> nobody =
                new ServiceManager(System.getenv(), "systemctl").whyNotBehindTheService();
        HardwareCheck check =
                new HardwareCheck(
                        configuration, new HeatPermission(Path.of("/"), nobody), Path.of("/dev"));
        check.run(SystemClock.monotonic());
        return check;
    }

    /** Prints faults as a keeper reads them. */
    static void print(
            PrintWriter writer, List<SettingsFault> errors, List<SettingsFault> warnings) {
        errors.forEach(fault -> writer.println(fault.text()));
        warnings.forEach(fault -> writer.println(fault.text()));
    }

    private String summary(SettingsResult.Accepted<AgentConfiguration> accepted) {
        AgentConfiguration configuration = accepted.value();
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

    private String summary(SettingsResult.Rejected<AgentConfiguration> rejected) {
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
