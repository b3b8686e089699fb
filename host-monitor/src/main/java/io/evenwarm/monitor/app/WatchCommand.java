package io.evenwarm.monitor.app;

import java.io.IOException;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParentCommand;

/** {@code evenwarm watch}. */
@Command(
        name = "watch",
        mixinStandardHelpOptions = true,
        versionProvider = Version.class,
        description =
                "Does what the window does, without one: collects, stores, and prints a status line"
                        + " a cabinet every few seconds. Ctrl-C ends it.")
final class WatchCommand implements Callable<Integer> {

    static final int EVERY_SECONDS = 5;
    private static final int EVERY_SECONDS_MAX = 3600;

    @ParentCommand private @Nullable Evenwarm evenwarm;

    @Option(
            names = "--every",
            paramLabel = "SECONDS",
            description = "time between status lines, 1 to 3600 s; by default ${DEFAULT-VALUE}")
    private int everySeconds = EVERY_SECONDS;

    @Override
    public Integer call() throws IOException {
        Evenwarm program = Parents.of(evenwarm);
        if (everySeconds < 1 || everySeconds > EVERY_SECONDS_MAX) {
            program.output().err().println("--every must be 1 to 3600 s but was " + everySeconds);
            return Evenwarm.BAD_INPUT;
        }
        Optional<MonitorSettings> settings = program.settings();
        return settings.isPresent()
                ? program.watch(settings.get(), true, everySeconds)
                : Evenwarm.BAD_INPUT;
    }
}
