package io.evenwarm.monitor.store;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.monitor.Journal;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.TimeSpan;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Instant;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A store that can't be used says why and what to do, and stays as it is. */
final class StoreTroubleTest {

    private static final AgentName AGENT = new AgentName("egg room");
    private static final TimeSpan ALL = new TimeSpan(Instant.EPOCH, Journal.at(1e9));

    private final Path folder;
    private final Path file;

    StoreTroubleTest(@TempDir Path folder) {
        this.folder = folder;
        file = folder.resolve(HistoryStore.FILE_NAME);
    }

    private String refusal() {
        return String.valueOf(
                assertThrows(StoreException.class, () -> HistoryStore.open(folder)).getMessage());
    }

    @Test
    void aFileThatIsNoStoreIsRefusedAndKept() throws IOException {
        byte[] picture =
                "this is a picture of an egg, honestly. "
                        .repeat(50)
                        .getBytes(StandardCharsets.UTF_8);
        Files.write(file, picture);
        assertEquals(
                "can't open "
                        + file
                        + ": it is not a monitor's store. Move it away, or name another"
                        + " data_folder",
                refusal());
        assertArrayEquals(picture, Files.readAllBytes(file));
    }

    @Test
    void anotherProgramsDatabaseIsRefusedAndKept() throws IOException, SQLException {
        sql("CREATE TABLE recipe (name TEXT)");
        byte[] before = Files.readAllBytes(file);
        assertEquals(
                file
                        + " is another program's SQLite file, not a monitor's store. Move it away,"
                        + " or name another data_folder",
                refusal());
        assertArrayEquals(before, Files.readAllBytes(file));
    }

    @Test
    void aStoreOfANewerVersionIsRefusedAndKept() throws IOException, SQLException {
        HistoryStore.open(folder).close();
        sql("PRAGMA user_version = " + (Schema.VERSION + 1));
        byte[] before = Files.readAllBytes(file);
        assertEquals(
                file
                        + " was written by a newer Evenwarm (store version "
                        + (Schema.VERSION + 1)
                        + "; this one knows up to "
                        + Schema.VERSION
                        + "). Start that version again, or name another data_folder",
                refusal());
        assertArrayEquals(before, Files.readAllBytes(file));
    }

    private String sql(String text) throws SQLException {
        try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + file)) {
            return ask(connection, text);
        }
    }

    @Test
    void aFolderThatCannotBeMadeIsNamed() throws IOException {
        Path notAFolder = folder.resolve("notes.txt");
        Files.writeString(notAFolder, "x");
        Path below = notAFolder.resolve("data");
        String message =
                String.valueOf(
                        assertThrows(StoreException.class, () -> HistoryStore.open(below))
                                .getMessage());
        assertTrue(
                message.startsWith("can't make the data folder " + below)
                        && message.endsWith("name another data_folder, or make it for this user"),
                message);
    }

    @Test
    void aSecondMonitorIsKeptAwayUntilTheFirstEnds() throws StoreException {
        try (HistoryStore first = HistoryStore.open(folder)) {
            assertEquals(
                    "another monitor (process "
                            + ProcessHandle.current().pid()
                            + ") is using "
                            + folder
                            + ": end it, or give this one a data_folder of its own",
                    refusal());
            assertEquals(0, first.lastSequence(AGENT, "j1"), "the first one works on");
        }
        HistoryStore.open(folder).close();
    }

    @Test
    void aClosedStoreSaysSo() throws StoreException {
        HistoryStore store = HistoryStore.open(folder);
        store.close();
        store.close();
        assertThrows(StoreException.class, () -> store.lastSequence(AGENT, "j1"));
        assertThrows(UncheckedIOException.class, store::cabinets);
    }

    @Test
    void aStoreThatTakesNothingSaysWhyUntilItTakesSomethingAgain()
            throws IOException, SQLException {
        try (HistoryStore store = HistoryStore.open(folder)) {
            store.append(AGENT, "j1", new Journal().top(5, 31).take());
            assertEquals(Optional.empty(), store.trouble());
            try (Connection other = DriverManager.getConnection("jdbc:sqlite:" + file);
                    Statement statement = other.createStatement()) {
                statement.execute("BEGIN IMMEDIATE");
                assertThrows(
                        StoreException.class, () -> store.notices().forget("e1", Instant.EPOCH));
                String words = store.trouble().orElseThrow();
                assertTrue(words.startsWith("can't write " + file), words);
                statement.execute("ROLLBACK");
            }
            store.notices().forget("e1", Instant.EPOCH);
            assertEquals(Optional.empty(), store.trouble());
        }
    }

    @Test
    void nothingButTheStoreAndItsLockIsLeftAfterAClose() throws IOException {
        HistoryStore store = HistoryStore.open(folder);
        store.append(AGENT, "j1", new Journal().top(5, 31).take());
        assertEquals(1, store.cabinets().size());
        store.close();
        try (var files = Files.list(folder)) {
            assertEquals(
                    List.of("history.lock", "history.sqlite"),
                    files.map(f -> f.getFileName().toString()).sorted().toList());
        }
    }

    /**
     * The disk fills up at every page that an append needs, one after another: each time all or
     * nothing is stored, and the same records go in once there is room.
     */
    @Test
    void aFullDiskStoresAllOrNothing() throws StoreException, SQLException {
        Journal journal = new Journal();
        for (int i = 1; i <= 200; i++) {
            journal.top(5 * i, 31 + i / 1000.0);
        }
        List<JournalRecord> records = journal.take();
        CabinetKey north = new CabinetKey(AGENT, Journal.NORTH);
        int[] spare = {0};
        try (HistoryStore store = HistoryStore.open(folder, c -> limitPages(c, spare[0]))) {
            int refusals = 0;
            while (true) {
                try {
                    store.append(AGENT, "j1", records);
                    break;
                } catch (StoreException e) {
                    refusals++;
                    spare[0]++;
                    assertTrue(
                            String.valueOf(e.getMessage()).contains("the disk is full"),
                            e.getMessage());
                    assertEquals(0, store.lastSequence(AGENT, "j1"));
                    assertEquals(List.of(), store.cabinets());
                    assertEquals("ok", sql("PRAGMA integrity_check"));
                    assertTrue(refusals < 100, "still no room");
                }
            }
            assertTrue(refusals >= 3, "only " + refusals + " refusals");
            assertEquals(200, store.lastSequence(AGENT, "j1"));
            assertEquals(200, store.curves(north, ALL).probes().get(0).curve().size());
        }
    }

    private static void limitPages(Connection connection, int spare) throws SQLException {
        int used = Integer.parseInt(ask(connection, "PRAGMA page_count"));
        ask(connection, "PRAGMA max_page_count = " + (used + spare));
    }

    private static String ask(Connection connection, String sql) throws SQLException {
        try (Statement statement = connection.createStatement()) {
            if (!statement.execute(sql)) {
                return "";
            }
            try (ResultSet rows = statement.getResultSet()) {
                return rows.next() ? String.valueOf(rows.getString(1)) : "";
            }
        }
    }

    @Test
    void aDamagedStoreSaysSoToWriterAndReader() throws IOException {
        try (HistoryStore store = HistoryStore.open(folder)) {
            Journal journal = new Journal();
            for (int i = 1; i <= 2000; i++) {
                journal.top(5 * i, 31);
            }
            store.append(AGENT, "j1", journal.take());
        }
        byte[] bytes = Files.readAllBytes(file);
        // The tables' pages; the schema stands at the begin.
        Arrays.fill(bytes, bytes.length / 2, bytes.length, (byte) 0x55);
        Files.write(file, bytes);
        try (HistoryStore store = HistoryStore.open(folder)) {
            String advice =
                    file
                            + ": it is damaged. Move it away and start again: the agents send again"
                            + " what their journals still hold";
            StoreException write =
                    assertThrows(
                            StoreException.class,
                            () ->
                                    store.append(
                                            AGENT,
                                            "j1",
                                            new Journal()
                                                    .afterSequence(2000)
                                                    .top(10_005, 31)
                                                    .take()));
            assertEquals("can't write " + advice, write.getMessage());
            UncheckedIOException read =
                    assertThrows(
                            UncheckedIOException.class,
                            () -> store.curves(new CabinetKey(AGENT, Journal.NORTH), ALL));
            assertTrue(String.valueOf(read.getMessage()).endsWith("can't read " + advice));
        }
    }
}
