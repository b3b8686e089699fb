package io.evenwarm.monitor.app;

import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParentCommand;
import picocli.CommandLine.Spec;

/** {@code evenwarm readings}: readings as CSV. */
@Command(
        name = "readings",
        mixinStandardHelpOptions = true,
        versionProvider = Version.class,
        description = "Readings as CSV, out of the store and into it.",
        subcommands = {ReadingsExport.class, ReadingsImport.class})
final class ReadingsCommand implements Callable<Integer> {

    @ParentCommand private @Nullable Evenwarm evenwarm;
    @Spec private @Nullable CommandSpec spec;

    Evenwarm program() {
        return Parents.of(evenwarm);
    }

    @Override
    public Integer call() {
        Parents.given(spec).commandLine().usage(program().output().err());
        return Evenwarm.BAD_INPUT;
    }
}
