package io.evenwarm.monitor.app;

import java.io.IOException;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParentCommand;

/** {@code evenwarm identity}. */
@Command(
        name = "identity",
        mixinStandardHelpOptions = true,
        versionProvider = Version.class,
        description =
                "Prints this monitor's key, for an agent's trusted_keys. Makes the key at its first"
                        + " use.")
final class IdentityCommand implements Callable<Integer> {

    @ParentCommand private @Nullable Evenwarm evenwarm;

    @Option(names = "--json", description = "print one JSON object")
    private boolean asJson;

    @Override
    public Integer call() throws IOException {
        Evenwarm program = Parents.of(evenwarm);
        Optional<MonitorSettings> settings = program.settings();
        if (settings.isEmpty()) {
            return Evenwarm.BAD_INPUT;
        }
        String key = Evenwarm.identity(settings.get()).pin().toString();
        program.output()
                .out()
                .println(asJson ? Json.object(Json.member("key", Json.text(key))) : key);
        return Evenwarm.OK;
    }
}
