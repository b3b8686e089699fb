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
import java.time.Instant;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
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

    private static final TimeSpan EVER = new TimeSpan(Instant.MIN, Instant.MAX);

    @ParentCommand private @Nullable ReadingsCommand readings;

    @Parameters(paramLabel = "FILE", description = "the file to make; must not be there yet")
    private @Nullable Path target;

    @Option(names = "--agent", paramLabel = "NAME", description = "only this agent's")
    private @Nullable String agent;

    @Option(names = "--cabinet", paramLabel = "NAME", description = "only cabinets of this name")
    private @Nullable String cabinet;

    @Mixin private SpanOptions span = new SpanOptions();

    private long written;

    @Override
    public Integer call() throws IOException {
        return Parents.given(readings).program().answer(this::answer);
    }

    private int answer(MonitorSettings settings) throws IOException {
        Output output = Parents.given(readings).program().output();
        Path file = Parents.given(target);
        ReadingFilter filter =
                new ReadingFilter(
                        Optional.ofNullable(agent).map(AgentName::new),
                        Optional.ofNullable(cabinet).map(CabinetName::new),
                        span.within(EVER, settings.zone()));
        if (!NewFiles.isNew(file, output.err())) {
            return Evenwarm.BAD_INPUT;
        }
        write(settings.storeFromOutside(), filter, file);
        output.out().printf(Locale.ROOT, "%,d readings to %s%n", written, file);
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
