package io.evenwarm.agent.journal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.HandClock;
import io.evenwarm.agent.Snapshots;
import io.evenwarm.agent.durable.FileLatchStore;
import io.evenwarm.agent.port.Latch;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.JournalRecord.Readings;
import io.evenwarm.testing.FileLayer;
import java.io.BufferedReader;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.stream.Stream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * The power fails under a journalling process again and again, on the same folder: every write
 * since a file's last sync is lost, kept or torn. What the process was told is kept must be there.
 *
 * <p>SQLite's documentation, "PRAGMA Statements", {@code synchronous}: with FULL "an operating
 * system crash or power failure will not corrupt the database"; "Write-Ahead Logging", 2.3:
 * "Writers sync the WAL on every transaction commit if PRAGMA synchronous is set to FULL". From
 * these follow both that nothing acknowledged is lost, and that what waits for its commit, 10 s of
 * it, may be.
 */
@Tag("long")
final class PowerCutIT {

    /** {@code .ci/evidence kept-1} asks for more. */
    private static final int CUTS = Integer.getInteger("power.cuts", 25);

    private static final long SEED = Long.getLong("power.seed", 7);

    /** Between two cuts: some minutes of virtual time, with a reopening or two. */
    private static final int MOST_CALLS = 700;

    /** {@code commitSeconds}, at one reading a second. */
    private static final long MOST_LOST_SECONDS = 10;

    @TempDir Path temporary;

    private final Random random = new Random(SEED);

    /** What the process said before its end. */
    private static final class Said {
        private long made;
        private long committed;
        private long latching;
        private long latched;
    }

    @Test
    void whatWasCommittedSurvivesPowerCutsAndAtMostTenSecondsOfTheRestAreLost()
            throws IOException, InterruptedException, SQLException {
        FileLayer layer = FileLayer.compile(temporary);
        Path folder = Files.createDirectory(temporary.resolve("state"));
        Said said = new Said();
        List<Long> known = List.of();
        long mostLost = 0;
        long lost = 0;
        for (int cut = 1; cut <= CUTS; cut++) {
            String where = "seed " + SEED + ", cut " + cut;
            long begin = said.made;
            runUntilPowerCut(layer, folder, said, where);
            Path image = copy(folder, temporary.resolve("image"));
            List<Long> ticks = journalledTicks(image, where);
            assertTrue(
                    ticks.size() >= said.committed,
                    where + ": " + said.committed + " committed but " + ticks.size() + " there");
            assertEquals(known, ticks.subList(0, known.size()), where + ": once, in order");
            // What an earlier cut took is not lost again.
            long last = Math.max(begin, lastReading(ticks));
            assertTrue(
                    said.made - last <= MOST_LOST_SECONDS,
                    where + ": made up to " + said.made + " s, kept up to " + last + " s");
            mostLost = Math.max(mostLost, said.made - last);
            lost += said.made - last;
            checkLatch(image, said, where);
            // What is in the file now was never acknowledged as lost either: it counts on.
            known = ticks;
            said.committed = ticks.size();
        }
        System.out.println(
                "kept-1 agent: "
                        + CUTS
                        + " power cuts, seed "
                        + SEED
                        + ": "
                        + known.size()
                        + " records; acknowledged lost 0, doubled 0, out of order 0; of what was"
                        + " not acknowledged at most "
                        + mostLost
                        + " s lost, "
                        + lost
                        + " s in all; latch never older than acknowledged");
    }

    private void runUntilPowerCut(FileLayer layer, Path folder, Said said, String where)
            throws IOException, InterruptedException {
        FileLayer.Cut cut = new FileLayer.Cut(1 + random.nextInt(MOST_CALLS), random.nextLong());
        Process process =
                layer.javaUntilPowerCut(
                                folder,
                                PowerCutProcess.JOURNAL,
                                PowerCutProcess.class,
                                List.of(folder.toRealPath().toString(), Long.toString(said.made)),
                                cut)
                        .start();
        try (BufferedReader lines = process.inputReader()) {
            for (String line = lines.readLine(); line != null; line = lines.readLine()) {
                if (line.endsWith(PowerCutProcess.END)) {
                    take(
                            line.substring(0, line.length() - PowerCutProcess.END.length()),
                            said,
                            where);
                }
            }
        }
        assertEquals(137, process.waitFor(), where + ": ended by SIGKILL: 128 + 9");
    }

    private static void take(String line, Said said, String where) {
        if (line.startsWith(PowerCutProcess.MADE)) {
            said.made = number(line, PowerCutProcess.MADE);
        } else if (line.startsWith(PowerCutProcess.COMMITTED)) {
            said.committed = number(line, PowerCutProcess.COMMITTED);
        } else if (line.startsWith(PowerCutProcess.LATCHING)) {
            said.latching = number(line, PowerCutProcess.LATCHING);
        } else if (line.startsWith(PowerCutProcess.LATCHED)) {
            said.latched = number(line, PowerCutProcess.LATCHED);
        } else {
            throw new AssertionError(where + ": " + line);
        }
    }

    private static long number(String line, String head) {
        return Long.parseLong(line.substring(head.length()));
    }

    /** A copy is looked at, so that the next process itself recovers, under the layer. */
    private static Path copy(Path folder, Path to) throws IOException {
        if (Files.exists(to)) {
            try (Stream<Path> old = Files.list(to)) {
                for (Path each : old.toList()) {
                    Files.delete(each);
                }
            }
        } else {
            Files.createDirectory(to);
        }
        try (Stream<Path> all = Files.list(folder)) {
            for (Path each : all.toList()) {
                assertTrue(
                        !each.getFileName().toString().contains("unreadable"),
                        () -> each + " was set aside");
                Files.copy(each, to.resolve(each.getFileName()));
            }
        }
        return to;
    }

    /** The tick of each record, in order; of an event its negative. */
    private static List<Long> journalledTicks(Path image, String where)
            throws IOException, SQLException {
        Path file = image.resolve(PowerCutProcess.JOURNAL);
        if (!Files.exists(file)) {
            return List.of();
        }
        try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + file);
                Statement statement = connection.createStatement()) {
            assertEquals("ok", JournalSchema.text(statement, "PRAGMA integrity_check"), where);
            boolean isEmpty =
                    JournalSchema.number(statement, "SELECT count(*) FROM sqlite_schema") == 0;
            if (isEmpty || JournalSchema.number(statement, "SELECT count(*) FROM record") == 0) {
                return List.of();
            }
        }
        HandClock clock = new HandClock();
        List<Long> ticks = new ArrayList<>();
        try (Journal journal = new Journal(PowerCutProcess.settings(image), clock, clock)) {
            journal.agentStarted(Snapshots.moment(0), "looked at by the test");
            journal.step(clock.advanceSeconds(1));
            List<JournalRecord> records = JournalTest.all(journal);
            JournalTest.assertNumberedFromOne(records);
            long lastTick = 0;
            for (JournalRecord each : records.subList(0, records.size() - 1)) {
                long tick = JournalingProcess.tickOf(each.moment());
                if (each instanceof Readings readings) {
                    assertTrue(tick > lastTick, where + ": " + tick + " after " + lastTick);
                    assertEquals(
                            Snapshots.healthy("north", tick, false).probes(),
                            readings.probes(),
                            where);
                    lastTick = tick;
                    ticks.add(tick);
                } else {
                    ticks.add(-tick);
                }
            }
        }
        return ticks;
    }

    private static long lastReading(List<Long> ticks) {
        return ticks.stream().mapToLong(Long::longValue).max().orElse(0);
    }

    /** What was saved last, or the one before it where its saving was under way. */
    private static void checkLatch(Path image, Said said, String where) {
        Latch found = new FileLatchStore(image).load(Snapshots.cabinet("north"));
        if (said.latching == 0) {
            return;
        }
        boolean isLast = found.equals(PowerCutProcess.latch(said.latched));
        boolean isNext = found.equals(PowerCutProcess.latch(said.latching));
        boolean isFirst = said.latched == 0 && found instanceof Latch.Clear;
        assertTrue(isLast || isNext || isFirst, where + ": saved " + said.latched + ": " + found);
        if (isNext) {
            said.latched = said.latching;
        }
    }
}
