package io.evenwarm.monitor.app;

import io.evenwarm.settings.NumberRange;
import java.io.IOException;
import java.net.URISyntaxException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.CodeSource;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParentCommand;

/** {@code evenwarm demo}. */
@Command(
        name = "demo",
        mixinStandardHelpOptions = true,
        versionProvider = Version.class,
        description =
                "Shows the whole chain at work: starts an agent with three simulated cabinets,"
                        + " connects to it, stores and shows what it sends. Needs no settings and"
                        + " leaves nothing behind.")
final class DemoCommand implements Callable<Integer> {

    private static final String AGENT_SCRIPT = "evenwarm-agent";
    private static final int SECONDS_MAX = 86_400;
    private static final int PAST_DAYS_MIN = 20;
    private static final int PAST_DAYS_MAX = 365;

    @ParentCommand private @Nullable Evenwarm evenwarm;

    @Option(
            names = "--speed",
            paramLabel = "N",
            description = "simulated seconds a second, 1 to 3600; by default ${DEFAULT-VALUE}")
    private double speed = 1;

    @Option(
            names = "--past-days",
            paramLabel = "N",
            description =
                    "how many days of an invented past the cabinets have, 20 to 365, or 0 for none; by"
                            + " default ${DEFAULT-VALUE}")
    private int pastDays = 40;

    @Option(
            names = "--agent",
            paramLabel = "PATH",
            description = "the agent's start script; by default the one that was built beside this")
    private @Nullable Path agent;

    @Option(
            names = "--end-with-parent",
            description = "end when the process that started this one ends")
    private boolean endsWithParent;

    @Option(
            names = "--seconds",
            paramLabel = "N",
            description = "end by itself after so many seconds, 1 to 86400")
    private @Nullable Integer seconds;

    @Option(
            names = "--headless",
            description = "stay in the terminal, also where there is a display")
    private boolean isHeadless;

    @Option(names = "--timings", description = "print how long the first curve took")
    private boolean showsTimings;

    @Override
    public Integer call() throws IOException {
        Output output = Parents.of(evenwarm).output();
        if (!(speed >= 1 && speed <= DemoConfiguration.SPEED_MAX)) {
            output.err().println("--speed must be 1 to 3600 but was " + NumberRange.plain(speed));
            return Evenwarm.BAD_INPUT;
        }
        if (pastDays != 0 && (pastDays < PAST_DAYS_MIN || pastDays > PAST_DAYS_MAX)) {
            output.err().println("--past-days must be 20 to 365, or 0, but was " + pastDays);
            return Evenwarm.BAD_INPUT;
        }
        if (seconds != null && (seconds < 1 || seconds > SECONDS_MAX)) {
            output.err().println("--seconds must be 1 to 86400 but was " + seconds);
            return Evenwarm.BAD_INPUT;
        }
        Optional<Path> script = agentScript();
        if (script.isEmpty()) {
            output.err()
                    .println(
                            agent == null
                                    ? "No agent was found beside this program: build both with mvn"
                                            + " package -DskipTests, or name its start script with"
                                            + " --agent PATH"
                                    : "There is no start script of an agent at "
                                            + agent
                                            + ": build it with mvn package -DskipTests, or name"
                                            + " another one");
            return Evenwarm.BAD_INPUT;
        }
        return new Demo(
                        new Demo.Wish(
                                script.get(),
                                speed,
                                pastDays,
                                Optional.ofNullable(seconds).map(Duration::ofSeconds),
                                endsWithParent,
                                isHeadless,
                                showsTimings),
                        output)
                .run();
    }

    private Optional<Path> agentScript() {
        List<Path> candidates = agent != null ? List.of(agent) : besideThisProgram();
        return candidates.stream()
                .map(path -> path.toAbsolutePath().normalize())
                .filter(path -> Files.isRegularFile(path) && Files.isExecutable(path))
                .findFirst();
    }

    /** Where the build puts it, and where both programs share a bin folder. */
    private static List<Path> besideThisProgram() {
        CodeSource source = DemoCommand.class.getProtectionDomain().getCodeSource();
        if (source == null) {
            return List.of();
        }
        try {
            // .../host-monitor/target/dist/lib/host-monitor.jar
            Path lib = Path.of(source.getLocation().toURI()).resolve("..");
            return List.of(
                    lib.resolve("../bin").resolve(AGENT_SCRIPT),
                    lib.resolve("../../../../pi-agent/target/dist/bin").resolve(AGENT_SCRIPT));
        } catch (URISyntaxException e) {
            return List.of();
        }
    }
}
