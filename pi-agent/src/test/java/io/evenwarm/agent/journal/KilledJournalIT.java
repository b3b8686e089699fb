package io.evenwarm.agent.journal;

import static io.evenwarm.agent.Snapshots.healthy;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.HandClock;
import io.evenwarm.agent.Snapshots;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.JournalRecord.Readings;
import io.evenwarm.testing.FileLayer;
import java.io.BufferedReader;
import java.io.IOException;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Random;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * A process that journals is killed again and again by SIGKILL, at moments that a seed chooses:
 * every record that it called committed is there, once, in order. A killed process only, not a
 * power cut: what the disk does with a sync is the disk's.
 */
@Tag("long")
final class KilledJournalIT {

    private static final long SEED = 5;

    /** {@code .ci/evidence kept-1} asks for more. */
    private static final int KILLS = Integer.getInteger("power.cuts", 8);

    /** Then another journal: all of it is read after each kill. */
    private static final int KILLS_A_JOURNAL = 25;

    /** Commits before a kill, at most. */
    private static final int MAX_COMMITS = 250;

    @TempDir Path folder;

    @Test
    void everyRecordThatWasCalledCommittedSurvivesSigkill()
            throws IOException, InterruptedException, SQLException {
        Random random = new Random(SEED);
        Path file = folder;
        long committed = 0;
        long records = 0;
        for (int kill = 1; kill <= KILLS; kill++) {
            if (kill % KILLS_A_JOURNAL == 1) {
                file = folder.resolve("journal-" + kill + ".sqlite");
                records += committed;
                committed = 0;
            }
            long before = committed;
            committed = runAndKill(file, 1 + random.nextInt(MAX_COMMITS));
            assertTrue(committed > before, "kill " + kill + ": nothing was committed");
            assertSound(file);
            long there = check(file, committed, "seed " + SEED + ", kill " + kill);
            // The process may have committed once more without getting to say so.
            committed = there;
        }
        System.out.println(
                "journal killed "
                        + KILLS
                        + " times by SIGKILL: "
                        + (records + committed)
                        + " committed records, all there, once, in order");
    }

    /** Kills the process after so many commits; returns the last that it told of. */
    private static long runAndKill(Path file, int commits)
            throws IOException, InterruptedException {
        List<String> command =
                new ArrayList<>(
                        List.of(
                                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                                "-XX:TieredStopAtLevel=1",
                                "-XX:+UseSerialGC"));
        command.addAll(FileLayer.sqliteFrom(Objects.requireNonNull(file.getParent())));
        command.addAll(
                List.of(
                        "-cp",
                        System.getProperty("java.class.path"),
                        JournalingProcess.class.getName(),
                        file.toString(),
                        "1"));
        Process process =
                new ProcessBuilder(command).redirectError(ProcessBuilder.Redirect.DISCARD).start();
        long last = 0;
        try (BufferedReader said = process.inputReader()) {
            int lines = 0;
            for (String line = said.readLine(); line != null; line = said.readLine()) {
                last = Long.parseLong(line);
                lines++;
                if (lines == commits) {
                    // Unlike Process.destroyForcibly, this leaves what it said to be read.
                    process.toHandle().destroyForcibly();
                }
            }
        }
        assertEquals(137, process.waitFor(), "ended by SIGKILL: 128 + 9");
        return last;
    }

    private static void assertSound(Path file) throws SQLException {
        try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + file);
                Statement statement = connection.createStatement()) {
            assertEquals("ok", JournalSchema.text(statement, "PRAGMA integrity_check"));
        }
    }

    private static long check(Path file, long committed, String where) throws IOException {
        HandClock clock = new HandClock();
        try (Journal journal = new Journal(JournalSettings.defaults(file), clock, clock)) {
            journal.agentStarted(Snapshots.moment(0), "looked at by the test");
            journal.step(clock.advanceSeconds(1));
            List<JournalRecord> records = JournalTest.all(journal);
            JournalTest.assertNumberedFromOne(records);
            assertTrue(
                    records.size() - 1 >= committed,
                    where + ": " + committed + " were committed, but there are " + records.size());
            long expectedTick = 1;
            for (JournalRecord each : records) {
                if (each instanceof Readings readings) {
                    long tick = JournalingProcess.tickOf(readings.moment());
                    // Each process begins at tick 1 again.
                    assertTrue(
                            tick == expectedTick || tick == 1,
                            where + ": tick " + tick + " instead of " + expectedTick);
                    assertEquals(healthy("north", tick, false).probes(), readings.probes(), where);
                    expectedTick = tick + 1;
                }
            }
            return records.size();
        }
    }
}
