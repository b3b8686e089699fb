package io.evenwarm.monitor.app;

import io.evenwarm.monitor.store.StoreException;
import io.evenwarm.monitor.store.StoreFile;
import io.evenwarm.monitor.store.StoreReport;
import java.io.PrintStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.ParentCommand;
import picocli.CommandLine.Spec;

/** {@code evenwarm store}: looks after the store, also while a monitor uses it. */
@Command(
        name = "store",
        mixinStandardHelpOptions = true,
        versionProvider = Version.class,
        description = "Looks after the store, also while a monitor uses it.",
        subcommands = {StoreCommand.Check.class, StoreCommand.Backup.class})
final class StoreCommand implements Callable<Integer> {

    @ParentCommand private @Nullable Evenwarm evenwarm;
    @Spec private @Nullable CommandSpec spec;

    @Override
    public Integer call() {
        Evenwarm program = Parents.of(evenwarm);
        if (spec != null) {
            spec.commandLine().usage(program.output().err());
        }
        return Evenwarm.BAD_INPUT;
    }

    private static Evenwarm program(@Nullable StoreCommand store) {
        if (store == null) {
            throw new IllegalStateException("called without the command line");
        }
        return Parents.of(store.evenwarm);
    }

    /** {@code evenwarm store check}. */
    @Command(
            name = "check",
            mixinStandardHelpOptions = true,
            versionProvider = Version.class,
            description =
                    "Verifies the store: the file's own structure, and that every tier says what"
                            + " the readings say. Changes nothing. Exit code 1 when it is not"
                            + " sound.")
    static final class Check implements Callable<Integer> {

        @ParentCommand private @Nullable StoreCommand store;

        @Option(names = "--json", description = "print one JSON object")
        private boolean asJson;

        @Override
        public Integer call() throws StoreException {
            Evenwarm program = program(store);
            Optional<MonitorSettings> settings = program.settings();
            if (settings.isEmpty()) {
                return Evenwarm.BAD_INPUT;
            }
            StoreReport report = new StoreFile(settings.get().dataFolder()).check();
            PrintStream out = program.output().out();
            if (asJson) {
                out.println(
                        Json.object(
                                Json.member("sound", Boolean.toString(report.isSound())),
                                Json.member("valuesCompared", Long.toString(report.readings())),
                                Json.member("stretchesCompared", Long.toString(report.stretches())),
                                Json.member("faults", Long.toString(report.faults())),
                                Json.member(
                                        "firstFaults",
                                        Json.array(
                                                report.words().stream()
                                                        .map(Json::text)
                                                        .toList()))));
            } else {
                report.words().forEach(out::println);
                long more = report.faults() - report.words().size();
                if (more > 0) {
                    out.println("and " + more + " more");
                }
                out.printf(
                        Locale.ROOT,
                        "%s: %,d values and %,d stretches of tiers compared, %,d faults%n",
                        report.isSound() ? "sound" : "not sound",
                        report.readings(),
                        report.stretches(),
                        report.faults());
            }
            return report.isSound() ? Evenwarm.OK : Evenwarm.FAILED;
        }
    }

    /** {@code evenwarm store backup}. */
    @Command(
            name = "backup",
            mixinStandardHelpOptions = true,
            versionProvider = Version.class,
            description =
                    "Copies the store, as it is at one moment, into a new file. To use the copy,"
                        + " put it into a data folder as history.sqlite.")
    static final class Backup implements Callable<Integer> {

        @ParentCommand private @Nullable StoreCommand store;

        @Parameters(paramLabel = "FILE", description = "the file to make; must not be there yet")
        private @Nullable Path target;

        @Override
        public Integer call() throws StoreException {
            Evenwarm program = program(store);
            if (target == null) {
                throw new IllegalStateException("called without the command line");
            }
            if (Files.exists(target)) {
                program.output()
                        .err()
                        .println(
                                "FILE must be a file that is not there yet, but "
                                        + target
                                        + " is: name another one, or move it away");
                return Evenwarm.BAD_INPUT;
            }
            Optional<MonitorSettings> settings = program.settings();
            if (settings.isEmpty()) {
                return Evenwarm.BAD_INPUT;
            }
            new StoreFile(settings.get().dataFolder()).copyTo(target);
            program.output().out().println("copied to " + target);
            return Evenwarm.OK;
        }
    }
}
