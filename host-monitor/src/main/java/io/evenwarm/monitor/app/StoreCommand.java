package io.evenwarm.monitor.app;

import io.evenwarm.monitor.store.HistoryStore;
import io.evenwarm.monitor.store.StoreException;
import io.evenwarm.monitor.store.StoreFile;
import io.evenwarm.monitor.store.StoreReport;
import java.io.IOException;
import java.io.PrintStream;
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
        subcommands = {
            StoreCommand.Check.class,
            StoreCommand.Backup.class,
            StoreCommand.Export.class,
            StoreCommand.Import.class
        })
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
            StoreReport report = settings.get().storeFromOutside().check();
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
            Path file = Parents.given(target);
            if (!NewFiles.isNew(file, program.output().err())) {
                return Evenwarm.BAD_INPUT;
            }
            Optional<MonitorSettings> settings = program.settings();
            if (settings.isEmpty()) {
                return Evenwarm.BAD_INPUT;
            }
            if (settings.get().storeUrl().isPresent()) {
                program.output()
                        .err()
                        .println(
                                "The store is on a server, which makes its own copies: use pg_dump"
                                        + " (its documentation: \"Backup and Restore\"), or"
                                        + " evenwarm store export for one that any store takes in");
                return Evenwarm.BAD_INPUT;
            }
            new StoreFile(settings.get().dataFolder()).copyTo(file);
            program.output().out().println("copied to " + file);
            return Evenwarm.OK;
        }
    }

    /** {@code evenwarm store export}. */
    @Command(
            name = "export",
            mixinStandardHelpOptions = true,
            versionProvider = Version.class,
            description =
                    "Writes everything of the store, as it is at one moment, into one new archive"
                            + " that any store takes in: a ZIP with one CSV a table.")
    static final class Export implements Callable<Integer> {

        @ParentCommand private @Nullable StoreCommand store;

        @Parameters(paramLabel = "FILE", description = "the archive to make, for example all.zip")
        private @Nullable Path target;

        @Override
        public Integer call() throws IOException {
            Evenwarm program = program(store);
            Path file = Parents.given(target);
            if (!NewFiles.isNew(file, program.output().err())) {
                return Evenwarm.BAD_INPUT;
            }
            Optional<MonitorSettings> settings = program.settings();
            if (settings.isEmpty()) {
                return Evenwarm.BAD_INPUT;
            }
            long rows = settings.get().storeFromOutside().exportAll(file);
            program.output().out().printf(Locale.ROOT, "%,d rows to %s%n", rows, file);
            return Evenwarm.OK;
        }
    }

    /** {@code evenwarm store import}. */
    @Command(
            name = "import",
            mixinStandardHelpOptions = true,
            versionProvider = Version.class,
            description =
                    "Takes an archive of store export into an empty store. No monitor may use that"
                            + " store meanwhile.")
    static final class Import implements Callable<Integer> {

        @ParentCommand private @Nullable StoreCommand store;

        @Parameters(paramLabel = "FILE", description = "the archive")
        private @Nullable Path source;

        @Override
        public Integer call() throws IOException {
            Evenwarm program = program(store);
            Path file = Parents.given(source);
            if (!NewFiles.isReadable(file, program.output().err())) {
                return Evenwarm.BAD_INPUT;
            }
            Optional<MonitorSettings> settings = program.settings();
            if (settings.isEmpty()) {
                return Evenwarm.BAD_INPUT;
            }
            try (HistoryStore history = settings.get().openStore()) {
                long rows = history.importAll(file);
                program.output().out().printf(Locale.ROOT, "%,d rows from %s%n", rows, file);
            }
            return Evenwarm.OK;
        }
    }
}
