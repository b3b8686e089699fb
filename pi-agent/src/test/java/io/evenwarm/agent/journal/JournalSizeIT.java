package io.evenwarm.agent.journal;

import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.HandClock;
import io.evenwarm.agent.Snapshots;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * How much a journal of three cabinets with four probes each takes on the card, and how much is
 * written for it: measured over some hours of the default settings and told per day.
 */
@Tag("long")
final class JournalSizeIT {

    /** Linux: what this process has passed to write calls (proc(5), /proc/pid/io, wchar). */
    private static final Path IO = Path.of("/proc/self/io");

    private static final int WARM_UP_SECONDS = 3600;
    private static final int MEASURED_SECONDS = 3 * 3600;
    private static final double DAY_SECONDS = 86_400;

    @TempDir Path folder;

    private final HandClock clock = new HandClock();
    private long tick;

    @Test
    void threeCabinetsTakeAFewMegabytesADay() throws IOException {
        Assumptions.assumeTrue(Files.exists(IO), "written octets not measured: needs /proc");
        Path file = folder.resolve("journal.sqlite");
        try (Journal journal = new Journal(JournalSettings.defaults(file), clock, clock)) {
            run(journal, WARM_UP_SECONDS);
            long sizeBefore = Files.size(file);
            long writtenBefore = written();
            long recordsBefore = journal.lastCommittedSequence();
            run(journal, MEASURED_SECONDS);
            double days = MEASURED_SECONDS / DAY_SECONDS;
            double written = (written() - writtenBefore) / days / 1e6;
            double records = (journal.lastCommittedSequence() - recordsBefore) / days;
            double size = (Files.size(file) - sizeBefore) / days / 1e6;
            System.out.printf(
                    Locale.ROOT,
                    "journal of 3 cabinets, 4 probes each: %.0f records/day, file grows %.1f MB/day"
                            + " (%.0f octets/record), %.0f MB/day passed to the disk%n",
                    records,
                    size,
                    size * 1e6 / records,
                    written);
            assertTrue(size < 5, "the file grows by " + size + " MB a day");
            assertTrue(written < 150, written + " MB are written a day");
        }
    }

    private void run(Journal journal, int seconds) {
        for (int i = 0; i < seconds; i++) {
            tick++;
            for (String cabinet : List.of("north", "south", "west")) {
                journal.published(Snapshots.healthy(cabinet, tick, tick % 3 == 0));
            }
            journal.step(clock.advanceSeconds(1));
        }
    }

    private static long written() throws IOException {
        return Files.readAllLines(IO).stream()
                .filter(line -> line.startsWith("wchar:"))
                .mapToLong(line -> Long.parseLong(line.substring("wchar:".length()).trim()))
                .sum();
    }
}
