package io.evenwarm.agent.journal;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;

/**
 * The journal's tables, and how SQLite is told to keep them; {@code docs/file-formats.md} describes
 * both.
 *
 * <p>Why {@code synchronous=FULL}: a sequence number that a monitor has acknowledged must never be
 * given to another record. SQLite's documentation says of the cheaper setting: "WAL mode is always
 * consistent with synchronous=NORMAL, but WAL mode does lose durability. A transaction committed in
 * WAL mode with synchronous=NORMAL might roll back following a power loss or system crash." [1]
 * After such a roll-back the numbers would be given again, and the monitor would pass the new
 * records over as known. With FULL, "Writers sync the WAL on every transaction commit" [2]; a sync
 * every ten seconds is no load, not even for a memory card.
 *
 * <p>[1] SQLite documentation, "PRAGMA Statements", {@code synchronous}. [2] SQLite documentation,
 * "Write-Ahead Logging", section 2.3.
 */
final class JournalSchema {

    /** Marks the file as ours: "EWJ1" in ASCII (SQLite file format, offset 68). */
    static final int APPLICATION_ID = 0x45574A31;

    /** The version of these tables (SQLite file format, offset 60). */
    static final int VERSION = 2;

    static final int PAGE_BYTES = 4096;

    /** Column {@code kind} of a reading; events have a kind of their own from 1 on. */
    static final int READINGS_KIND = 0;

    static final int EVENT_KIND = 1;

    private static final List<String> TABLES =
            List.of(
                    "CREATE TABLE journal (name TEXT NOT NULL) STRICT",
                    "CREATE TABLE boot (id INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE,"
                            + " machine TEXT, trusted_offset_millis INTEGER) STRICT",
                    "CREATE TABLE layout (id INTEGER PRIMARY KEY, cabinet TEXT NOT NULL,"
                            + " body BLOB NOT NULL, UNIQUE (cabinet, body)) STRICT",
                    "CREATE TABLE record (sequence INTEGER PRIMARY KEY, boot INTEGER NOT NULL,"
                            + " monotonic_nanos INTEGER NOT NULL, wall_millis INTEGER NOT NULL,"
                            + " wall_trusted INTEGER NOT NULL, kind INTEGER NOT NULL,"
                            + " layout INTEGER, body BLOB NOT NULL) STRICT",
                    recordTime());

    /** What turns a journal of version 1 into one of version 2. */
    private static final List<String> SECOND_VERSION =
            List.of(
                    "ALTER TABLE boot ADD COLUMN machine TEXT",
                    "ALTER TABLE boot ADD COLUMN trusted_offset_millis INTEGER",
                    recordTime());

    /** For a person with an SQLite tool: each record's time as recorded, and as corrected since. */
    private static String recordTime() {
        return "CREATE VIEW record_time AS SELECT sequence, boot.name AS boot, monotonic_nanos,"
                + " wall_millis AS recorded_wall_millis, wall_trusted,"
                + " CASE WHEN wall_trusted = 0 AND trusted_offset_millis IS NOT NULL"
                + " THEN monotonic_nanos / 1000000 + trusted_offset_millis"
                + " ELSE wall_millis END AS wall_millis"
                + " FROM record JOIN boot ON boot.id = record.boot";
    }

    private JournalSchema() {}

    /** Makes the tables in an empty file, and leaves a file of ours as it is. */
    static void prepare(Connection connection, Path file, long maximumBytes)
            throws SQLException, JournalFault {
        try (Statement statement = connection.createStatement()) {
            boolean isEmpty = number(statement, "SELECT count(*) FROM sqlite_schema") == 0;
            long applicationId = number(statement, "PRAGMA application_id");
            long version = number(statement, "PRAGMA user_version");
            if (!isEmpty) {
                requireOurs(file, applicationId, version);
            }
            settings(statement, file, maximumBytes);
            if (isEmpty) {
                create(statement);
            } else if (version < VERSION) {
                inTransaction(statement, SECOND_VERSION);
            }
        }
    }

    private static void requireOurs(Path file, long applicationId, long version)
            throws JournalFault {
        if (applicationId != APPLICATION_ID) {
            throw new JournalFault(
                    JournalFault.Cure.TRY_AGAIN,
                    file
                            + " belongs to another program and is left alone."
                            + " Give the journal another file or move that one away");
        }
        if (version < 1 || version > VERSION) {
            throw new JournalFault(
                    JournalFault.Cure.SET_ASIDE,
                    "the journal "
                            + file
                            + " has format "
                            + version
                            + ", but this program writes format "
                            + VERSION);
        }
    }

    private static void settings(Statement statement, Path file, long maximumBytes)
            throws SQLException, JournalFault {
        String mode = text(statement, "PRAGMA journal_mode = WAL");
        if (!mode.equals("wal")) {
            throw new JournalFault(
                    JournalFault.Cure.TRY_AGAIN,
                    "the file system under "
                            + file
                            + " can't hold a write-ahead log ("
                            + mode
                            + ")");
        }
        // Waiting is the retry's job; the writer goes on emptying its queue meanwhile.
        statement.execute("PRAGMA busy_timeout = 200");
        statement.execute("PRAGMA synchronous = FULL");
        statement.execute("PRAGMA cache_size = -512");
        statement.execute("PRAGMA temp_store = MEMORY");
        statement.execute("PRAGMA wal_autocheckpoint = 1000");
        statement.execute("PRAGMA max_page_count = " + maximumBytes / PAGE_BYTES);
    }

    private static void create(Statement statement) throws SQLException {
        List<String> all = new ArrayList<>(TABLES);
        all.add("INSERT INTO journal VALUES ('" + UUID.randomUUID() + "')");
        inTransaction(statement, all);
    }

    private static void inTransaction(Statement statement, List<String> steps) throws SQLException {
        statement.execute("BEGIN IMMEDIATE");
        try {
            for (String step : steps) {
                statement.execute(step);
            }
            statement.execute("PRAGMA application_id = " + APPLICATION_ID);
            statement.execute("PRAGMA user_version = " + VERSION);
            statement.execute("COMMIT");
        } catch (SQLException e) {
            statement.execute("ROLLBACK");
            throw e;
        }
    }

    static long number(Statement statement, String sql) throws SQLException {
        try (ResultSet result = statement.executeQuery(sql)) {
            if (!result.next()) {
                return 0;
            }
            long value = result.getLong(1);
            finish(result);
            return value;
        }
    }

    /**
     * Goes on to the end: a statement that changes something commits after its last row, and only
     * asking for the next tells whether that failed.
     */
    private static void finish(ResultSet result) throws SQLException {
        boolean hasMore = result.next();
        while (hasMore) {
            hasMore = result.next();
        }
    }

    static String text(Statement statement, String sql) throws SQLException {
        try (ResultSet result = statement.executeQuery(sql)) {
            if (!result.next()) {
                return "";
            }
            String value = result.getString(1);
            finish(result);
            return value;
        }
    }
}
