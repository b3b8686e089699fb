package io.evenwarm.monitor.app;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.CabinetName;
import io.evenwarm.monitor.exchange.ReadingsCsv;
import io.evenwarm.monitor.history.ReadingFilter;
import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.monitor.store.StoreOutside;
import java.io.IOException;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.DateTimeException;
import java.time.Instant;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.ParentCommand;

/** {@code evenwarm readings export}. */
@Command(
        name = "export",
        mixinStandardHelpOptions = true,
        versionProvider = Version.class,
        description =
                "Writes stored readings into a new CSV file, one line a reading, also while a"
                        + " monitor runs.")
final class ReadingsExport implements Callable<Integer> {

    @ParentCommand private @Nullable ReadingsCommand readings;

    @Parameters(paramLabel = "FILE", description = "the file to make; must not be there yet")
    private @Nullable Path target;

    @Option(names = "--agent", paramLabel = "NAME", description = "only this agent's")
    private @Nullable String agent;

    @Option(names = "--cabinet", paramLabel = "NAME", description = "only cabinets of this name")
    private @Nullable String cabinet;

    @Option(
            names = "--from",
            paramLabel = "TIME",
            description = "not before, for example 2026-03-01T00:00:00Z")
    private String from = Instant.MIN.toString();

    @Option(names = "--to", paramLabel = "TIME", description = "only before")
    private String to = Instant.MAX.toString();

    private long written;

    @Override
    public Integer call() throws IOException {
        Evenwarm program = Parents.given(readings).program();
        Path file = Parents.given(target);
        ReadingFilter filter;
        try {
            filter =
                    new ReadingFilter(
                            Optional.ofNullable(agent).map(AgentName::new),
                            Optional.ofNullable(cabinet).map(CabinetName::new),
                            new TimeSpan(Instant.parse(from), Instant.parse(to)));
        } catch (DateTimeException e) {
            program.output()
                    .err()
                    .println(
                            "--from and --to must be times in UTC such as 2026-03-01T00:00:00Z: "
                                    + e.getMessage());
            return Evenwarm.BAD_INPUT;
        } catch (IllegalArgumentException e) {
            program.output().err().println(e.getMessage());
            return Evenwarm.BAD_INPUT;
        }
        if (!NewFiles.isNew(file, program.output().err())) {
            return Evenwarm.BAD_INPUT;
        }
        Optional<MonitorSettings> settings = program.settings();
        if (settings.isEmpty()) {
            return Evenwarm.BAD_INPUT;
        }
        write(settings.get().storeFromOutside(), filter, file);
        program.output().out().printf(Locale.ROOT, "%,d readings to %s%n", written, file);
        return Evenwarm.OK;
    }

    private void write(StoreOutside store, ReadingFilter filter, Path file) throws IOException {
        boolean done = false;
        try (Writer out =
                Files.newBufferedWriter(
                        file, StandardCharsets.UTF_8, StandardOpenOption.CREATE_NEW)) {
            ReadingsCsv.write(sink -> written = store.exportReadings(filter, sink), out);
            done = true;
        } finally {
            if (!done) {
                Files.deleteIfExists(file);
            }
        }
    }
}
