package io.evenwarm.agent.journal;

import static io.evenwarm.agent.Snapshots.healthy;
import static io.evenwarm.agent.journal.JournalTest.all;
import static io.evenwarm.agent.journal.JournalTest.assertNumberedFromOne;
import static io.evenwarm.agent.journal.JournalTest.assertNumberedWithoutAGap;
import static io.evenwarm.agent.journal.JournalTest.assertOneReadingEvery;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.HandClock;
import io.evenwarm.agent.Snapshots;
import io.evenwarm.message.JournalRecord;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

final class JournalFailuresTest {

    @TempDir Path folder;

    private final HandClock clock = new HandClock();
    private long tick;

    private Path file() {
        return folder.resolve("state").resolve("journal.sqlite");
    }

    private Journal open() {
        return new Journal(JournalSettings.defaults(file()), clock, clock);
    }

    private void run(Journal journal, int seconds) {
        for (int i = 0; i < seconds; i++) {
            tick++;
            journal.published(healthy("north", tick, false));
            journal.step(clock.advanceSeconds(1));
        }
    }

    private static String trouble(Journal journal) {
        return journal.health().trouble().orElse("works");
    }

    /** A file in the folder's place can't be written to by anyone, root included. */
    @Test
    void withAFolderThatCantBeMadeTheJournalSaysSoAndLosesNothingOnceItCan() throws IOException {
        Files.writeString(folder.resolve("state"), "in the way");
        try (Journal journal = open()) {
            run(journal, 60);
            assertTrue(trouble(journal).contains("state"), trouble(journal));
            assertTrue(trouble(journal).contains("can't be made"), trouble(journal));
            Files.delete(folder.resolve("state"));
            run(journal, 40);
            assertEquals("works", trouble(journal));
            List<JournalRecord> records = all(journal);
            assertNumberedFromOne(records);
            assertEquals(Snapshots.moment(1), records.get(0).moment());
            assertOneReadingEvery(5, records);
            assertTrue(records.size() >= 17, "only " + records.size() + " records");
        }
    }

    /** SQLite itself says SQLITE_FULL here: its page limit is reached. */
    @Test
    void aFullDiskIsSaidAndTheJournalGoesOnWhenThereIsRoom() throws IOException {
        JournalSettings tiny = new JournalSettings(file(), 1, 10, 400, 128 * 1024);
        try (Journal journal = new Journal(tiny, clock, clock)) {
            int seconds = 0;
            while (trouble(journal).equals("works") && seconds++ < 5000) {
                run(journal, 1);
            }
            assertTrue(trouble(journal).contains("disk is full"), trouble(journal));
            long committed = journal.lastCommittedSequence();
            run(journal, 20);
            assertEquals(committed, journal.lastCommittedSequence());
            List<JournalRecord> readable = all(journal);
            assertNumberedWithoutAGap(readable);
            assertEquals(
                    committed,
                    readable.get(readable.size() - 1).sequence(),
                    "what was committed stays readable");
            // Within ten minutes its upkeep makes room.
            journal.step(clock.advanceSeconds(610));
            journal.step(clock.advanceSeconds(31));
            assertEquals("works", trouble(journal));
            List<JournalRecord> after = all(journal);
            assertEquals(
                    Snapshots.moment(tick), after.get(after.size() - 1).moment(), "the newest");
            assertOneReadingEvery(1, after);
        }
    }

    @Test
    void aFileOfGarbageIsKeptUnderAnotherNameAndANewOneBegun() throws IOException {
        Files.createDirectories(file().getParent());
        Files.writeString(file(), "this was never a database".repeat(400));
        try (Journal journal = open()) {
            run(journal, 11);
            assertTrue(trouble(journal).contains("is damaged"), trouble(journal));
            assertTrue(trouble(journal).contains("journal.sqlite.unreadable-1"), trouble(journal));
            assertNumberedFromOne(all(journal));
            run(journal, 61);
            assertEquals("works", trouble(journal), "told for a minute");
        }
        assertTrue(
                Files.readString(folder.resolve("state/journal.sqlite.unreadable-1"))
                        .startsWith("this was never"));
    }

    @Test
    void aDamagedPageThatAReaderFindsHasTheFileKeptAndANewOneBegun() throws IOException {
        fill();
        // A leaf in the middle of the records: the writer never looks at it.
        damagePage(15);
        try (Journal journal = open();
                JournalReader reader = journal.openReader()) {
            run(journal, 11);
            assertEquals("works", trouble(journal));
            String firstName = reader.after(0, 1).journal();
            assertThrows(
                    IOException.class,
                    () -> {
                        for (long last = 0; last < 1000; last += 50) {
                            reader.after(last, 50);
                        }
                    });
            run(journal, 11);
            assertTrue(trouble(journal).contains("unreadable-1"), trouble(journal));
            JournalSlice begunAnew = reader.after(0, 50);
            assertTrue(!begunAnew.journal().equals(firstName));
            assertNumberedFromOne(begunAnew.records());
        }
        assertTrue(Files.exists(folder.resolve("state/journal.sqlite.unreadable-1")));
    }

    @Test
    void aDamagedRootThatTheWriterFindsHasTheFileKeptAndANewOneBegun() throws IOException {
        fill();
        for (int page = 2; page < 9; page++) {
            damagePage(page);
        }
        try (Journal journal = open()) {
            run(journal, 11);
            assertTrue(trouble(journal).contains("unreadable-1"), trouble(journal));
            assertNumberedFromOne(all(journal));
        }
    }

    /** A thousand records on some twenty pages. */
    private void fill() {
        JournalSettings everySecond = new JournalSettings(file(), 1, 60, 400, 2_000_000_000L);
        try (Journal journal = new Journal(everySecond, clock, clock)) {
            run(journal, 1000);
        }
    }

    /** Pages count from 1. */
    private void damagePage(int page) throws IOException {
        byte[] noise = new byte[4096];
        new Random(page).nextBytes(noise);
        try (FileChannel channel = FileChannel.open(file(), StandardOpenOption.WRITE)) {
            channel.write(ByteBuffer.wrap(noise), 4096L * (page - 1));
        }
    }

    @Test
    void aJournalOfAnotherVersionIsKeptAndANewOneBegun() throws IOException, SQLException {
        try (Journal journal = open()) {
            run(journal, 10);
        }
        sql("PRAGMA user_version = 99");
        try (Journal journal = open()) {
            run(journal, 11);
            assertTrue(trouble(journal).contains("has format 99"), trouble(journal));
            assertNumberedFromOne(all(journal));
        }
    }

    @Test
    void theFileOfAnotherProgramIsLeftAlone() throws IOException, SQLException {
        Files.createDirectories(file().getParent());
        sql("CREATE TABLE guests (name TEXT)");
        try (Journal journal = open()) {
            run(journal, 60);
            assertTrue(trouble(journal).contains("belongs to another program"), trouble(journal));
        }
        try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + file());
                Statement statement = connection.createStatement()) {
            assertEquals("guests", JournalSchema.text(statement, "SELECT name FROM sqlite_schema"));
        }
    }

    @Test
    void anotherProgramThatHoldsTheFileLockedIsNamedAndWaitedFor()
            throws IOException, SQLException {
        try (Journal journal = open()) {
            run(journal, 10);
            try (Connection other = DriverManager.getConnection("jdbc:sqlite:" + file());
                    Statement statement = other.createStatement()) {
                statement.execute("BEGIN IMMEDIATE");
                run(journal, 11);
                assertTrue(trouble(journal).contains("locked"), trouble(journal));
                statement.execute("COMMIT");
            }
            run(journal, 40);
            assertEquals("works", trouble(journal));
            assertOneReadingEvery(5, all(journal));
            assertTrue(all(journal).size() >= 9, "only " + all(journal).size() + " records");
        }
    }

    @Test
    void withADiskThatFailsForHoursTheMemoryStaysBounded() throws IOException {
        Files.writeString(folder.resolve("state"), "in the way");
        JournalSettings everySecond = new JournalSettings(file(), 1, 10, 400, 2_000_000_000L);
        try (Journal journal = new Journal(everySecond, clock, clock)) {
            run(journal, WaitingRecords.MAX + 500);
            assertEquals(500, journal.lostItems());
            Files.delete(folder.resolve("state"));
            run(journal, 40);
            List<JournalRecord> records = all(journal);
            assertNumberedFromOne(records);
            assertOneReadingEvery(1, records);
            assertTrue(
                    records.get(records.size() - 1).moment().monotonicNanos()
                            > Snapshots.moment(tick - 11).monotonicNanos(),
                    "the newest are kept");
        }
    }

    private void sql(String statement) throws SQLException {
        try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + file());
                Statement each = connection.createStatement()) {
            each.execute(statement);
        }
    }
}
