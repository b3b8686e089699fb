package io.evenwarm.agent.app;

import io.evenwarm.agent.rehearsal.PastStory;
import io.evenwarm.clock.SystemClock;
import io.evenwarm.settings.SettingsFault;
import io.evenwarm.settings.SettingsResult;
import java.io.BufferedOutputStream;
import java.io.FileDescriptor;
import java.io.FileOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.time.Instant;
import java.time.ZoneId;
import java.time.format.DateTimeParseException;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** {@code past}. */
@Command(
        name = "past",
        description = {
            "Makes up a past for simulated cabinets and writes it to standard output, in the frames"
                    + " in which an agent sends its journal: ordinary weeks, and in them a fan that"
                    + " weakens and is replaced, a door left ajar, five hours of a night without"
                    + " mains, a probe that drifts. Made by the agent's own control and guard on the"
                    + " simulated cabinets; the same seed and end give the same past.",
            "0 when all was written; 2 when the configuration has faults or a real cabinet."
        })
final class PastCommand implements Callable<Integer> {

    private static final int READING_SECONDS_MOST = 3600;
    private static final int PIPE_OCTETS = 1 << 16;

    @Spec private CommandSpec spec;

    @Option(
            names = "--config",
            required = true,
            paramLabel = "FILE",
            description = "the agent's configuration, with simulated cabinets only")
    private Path config;

    @Option(
            names = "--days",
            paramLabel = "N",
            defaultValue = "40",
            description =
                    "how many days, "
                            + PastStory.DAYS_LEAST
                            + " to "
                            + PastStory.DAYS_MOST
                            + " (default: ${DEFAULT-VALUE})")
    private int days;

    @Option(
            names = "--until",
            paramLabel = "TIME",
            description = "when it ends, such as 2026-05-01T12:00:00Z; now when not said")
    private Optional<String> until = Optional.empty();

    @Option(
            names = "--interval-seconds",
            paramLabel = "S",
            defaultValue = "60",
            description = "between two readings, 1 to 3600 (default: ${DEFAULT-VALUE})")
    private int intervalSeconds;

    @Override
    public Integer call() {
        PrintWriter err = spec.commandLine().getErr();
        if (intervalSeconds < 1 || intervalSeconds > READING_SECONDS_MOST) {
            throw new ParameterException(
                    spec.commandLine(),
                    "found --interval-seconds " + intervalSeconds + "; allowed: 1 to 3600");
        }
        SettingsResult<AgentConfiguration> result = ConfigurationReader.read(config);
        List<SettingsFault> errors =
                result.fold(accepted -> List.of(), SettingsResult.Rejected::errors);
        CheckCommand.print(err, errors, result.warnings());
        return result.fold(
                accepted -> LogSetup.quietly(() -> write(accepted.value(), err)),
                rejected -> ExitCode.BAD_INPUT);
    }

    private int write(AgentConfiguration configuration, PrintWriter err) {
        for (CabinetSettings cabinet : configuration.cabinets()) {
            if (!cabinet.isSimulated()) {
                err.println(
                        "evenwarm-agent: "
                                + config
                                + ": cabinet "
                                + cabinet.plan().name()
                                + " is a real one; a past is made up for simulated ones only");
                return ExitCode.BAD_INPUT;
            }
        }
        PastStory story;
        try {
            story =
                    new PastStory(
                            until(),
                            ZoneId.systemDefault(),
                            days,
                            configuration.simulation().seed());
        } catch (IllegalArgumentException e) {
            throw new ParameterException(spec.commandLine(), String.valueOf(e.getMessage()), e);
        }
        try (OutputStream out =
                new BufferedOutputStream(new FileOutputStream(FileDescriptor.out), PIPE_OCTETS)) {
            new PastMaking(story, configuration.cabinets(), intervalSeconds, out).run();
            return ExitCode.DONE;
        } catch (IOException e) {
            err.println("evenwarm-agent: nobody takes the past any more: " + Failures.inOneLine(e));
            return ExitCode.NO;
        }
    }

    private Instant until() {
        try {
            return until.map(Instant::parse).orElseGet(() -> SystemClock.wall().now());
        } catch (DateTimeParseException e) {
            throw new ParameterException(
                    spec.commandLine(),
                    "found --until "
                            + until.orElse("")
                            + "; allowed: a time such as 2026-05-01T12:00:00Z",
                    e);
        }
    }
}
