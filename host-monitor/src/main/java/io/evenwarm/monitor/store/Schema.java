package io.evenwarm.monitor.store;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.List;

/**
 * The tables, as numbered steps: step n turns a store of version n−1 into one of version n. Steps
 * that a release has shipped never change. {@code docs/file-formats.md} says what the columns mean.
 */
final class Schema {

    /** "Evwm" in ASCII, in the file's header: tells our store from another program's file. */
    static final int APPLICATION_ID = 0x4576776d;

    private static final List<List<String>> STEPS =
            List.of(
                    List.of(
                            """
                            CREATE TABLE agent (
                              id INTEGER PRIMARY KEY,
                              name TEXT NOT NULL UNIQUE
                            ) STRICT
                            """,
                            """
                            CREATE TABLE journal (
                              id INTEGER PRIMARY KEY,
                              agent_id INTEGER NOT NULL REFERENCES agent (id),
                              name TEXT NOT NULL,
                              last_sequence INTEGER NOT NULL,
                              UNIQUE (agent_id, name)
                            ) STRICT
                            """,
                            """
                            CREATE TABLE boot (
                              id INTEGER PRIMARY KEY,
                              agent_id INTEGER NOT NULL REFERENCES agent (id),
                              boot TEXT NOT NULL,
                              last_time_millis INTEGER NOT NULL,
                              trusted_offset_millis INTEGER,
                              UNIQUE (agent_id, boot)
                            ) STRICT
                            """,
                            """
                            CREATE TABLE cabinet (
                              id INTEGER PRIMARY KEY,
                              agent_id INTEGER NOT NULL REFERENCES agent (id),
                              name TEXT NOT NULL,
                              UNIQUE (agent_id, name)
                            ) STRICT
                            """,
                            """
                            CREATE TABLE probe (
                              id INTEGER PRIMARY KEY,
                              cabinet_id INTEGER NOT NULL REFERENCES cabinet (id),
                              name TEXT NOT NULL,
                              position TEXT NOT NULL,
                              unit TEXT
                            ) STRICT
                            """,
                            "CREATE INDEX probe_of_cabinet ON probe (cabinet_id, name, position)",
                            """
                            CREATE TABLE limits (
                              id INTEGER PRIMARY KEY,
                              too_cold_celsius REAL NOT NULL,
                              too_warm_celsius REAL NOT NULL,
                              cut_off_celsius REAL NOT NULL,
                              ceiling_celsius REAL NOT NULL,
                              UNIQUE (too_cold_celsius, too_warm_celsius,
                                      cut_off_celsius, ceiling_celsius)
                            ) STRICT
                            """,
                            """
                            CREATE TABLE word (
                              id INTEGER PRIMARY KEY,
                              word TEXT NOT NULL UNIQUE
                            ) STRICT
                            """,
                            """
                            CREATE TABLE record (
                              cabinet_id INTEGER NOT NULL REFERENCES cabinet (id),
                              time_millis INTEGER NOT NULL,
                              journal_id INTEGER NOT NULL REFERENCES journal (id),
                              sequence INTEGER NOT NULL,
                              boot_id INTEGER NOT NULL REFERENCES boot (id),
                              monotonic_millis INTEGER NOT NULL,
                              time_is_provisional INTEGER NOT NULL,
                              set_point_celsius REAL NOT NULL,
                              duty_fraction REAL NOT NULL,
                              heater_on_fraction REAL NOT NULL,
                              guard_word INTEGER NOT NULL REFERENCES word (id),
                              limits_id INTEGER NOT NULL REFERENCES limits (id),
                              PRIMARY KEY (cabinet_id, time_millis, journal_id, sequence)
                            ) STRICT, WITHOUT ROWID
                            """,
                            """
                            CREATE INDEX record_with_provisional_time ON record (boot_id)
                              WHERE time_is_provisional = 1
                            """,
                            """
                            CREATE TABLE reading (
                              probe_id INTEGER NOT NULL REFERENCES probe (id),
                              time_millis INTEGER NOT NULL,
                              journal_id INTEGER NOT NULL,
                              sequence INTEGER NOT NULL,
                              value REAL,
                              doubt_word INTEGER REFERENCES word (id),
                              PRIMARY KEY (probe_id, time_millis, journal_id, sequence)
                            ) STRICT, WITHOUT ROWID
                            """,
                            """
                            CREATE TABLE event (
                              journal_id INTEGER NOT NULL REFERENCES journal (id),
                              sequence INTEGER NOT NULL,
                              time_millis INTEGER NOT NULL,
                              boot_id INTEGER NOT NULL REFERENCES boot (id),
                              monotonic_millis INTEGER NOT NULL,
                              time_is_provisional INTEGER NOT NULL,
                              cabinet_id INTEGER REFERENCES cabinet (id),
                              kind TEXT NOT NULL,
                              words TEXT NOT NULL,
                              code TEXT,
                              probe TEXT,
                              raised_monotonic_millis INTEGER,
                              evidence TEXT,
                              action TEXT,
                              advice TEXT,
                              PRIMARY KEY (journal_id, sequence)
                            ) STRICT, WITHOUT ROWID
                            """,
                            """
                            CREATE INDEX event_with_provisional_time ON event (boot_id)
                              WHERE time_is_provisional = 1
                            """,
                            """
                            CREATE TABLE log_entry (
                              id INTEGER PRIMARY KEY,
                              agent_id INTEGER NOT NULL REFERENCES agent (id),
                              cabinet_id INTEGER REFERENCES cabinet (id),
                              boot_id INTEGER NOT NULL REFERENCES boot (id),
                              code TEXT,
                              probe TEXT,
                              begin_millis INTEGER NOT NULL,
                              begin_correctable_monotonic_millis INTEGER,
                              end_millis INTEGER,
                              end_correctable_monotonic_millis INTEGER,
                              words TEXT NOT NULL
                            ) STRICT
                            """,
                            "CREATE INDEX log_entry_by_time ON log_entry (begin_millis)",
                            """
                            CREATE INDEX log_entry_open ON log_entry (agent_id)
                              WHERE end_millis IS NULL
                            """,
                            """
                            CREATE INDEX log_entry_correctable ON log_entry (boot_id)
                              WHERE begin_correctable_monotonic_millis IS NOT NULL
                                 OR end_correctable_monotonic_millis IS NOT NULL
                            """));

    static final int VERSION = STEPS.size();

    private Schema() {}

    /**
     * Brings the store up to {@link #VERSION}, each step whole or not at all.
     *
     * @throws StoreException when the file belongs to another program or a newer version; it is
     *     then as it was
     */
    static void bringUpToDate(Connection connection, Path file)
            throws SQLException, StoreException {
        int version = check(connection, file);
        connection.setAutoCommit(false);
        try (Statement statement = connection.createStatement()) {
            for (int step = version; step < VERSION; step++) {
                for (String sql : STEPS.get(step)) {
                    statement.execute(sql);
                }
                statement.execute("PRAGMA application_id = " + APPLICATION_ID);
                statement.execute("PRAGMA user_version = " + (step + 1));
                connection.commit();
            }
        } catch (SQLException e) {
            connection.rollback();
            throw e;
        } finally {
            connection.setAutoCommit(true);
        }
    }

    /** The store's version: 0 for a new file. Changes nothing. */
    private static int check(Connection connection, Path file) throws SQLException, StoreException {
        try (Statement statement = connection.createStatement()) {
            int application = number(statement, "PRAGMA application_id");
            int version = number(statement, "PRAGMA user_version");
            int tables = number(statement, "SELECT count(*) FROM sqlite_schema");
            boolean isNew = application == 0 && version == 0 && tables == 0;
            if (!isNew && application != APPLICATION_ID) {
                throw new StoreException(
                        file
                                + " is another program's SQLite file, not a monitor's store. Move it"
                                + " away, or name another data_folder");
            }
            if (version > VERSION) {
                throw new StoreException(
                        file
                                + " was written by a newer Evenwarm (store version "
                                + version
                                + "; this one knows up to "
                                + VERSION
                                + "). Start that version again, or name another data_folder");
            }
            return version;
        }
    }

    private static int number(Statement statement, String sql) throws SQLException {
        try (ResultSet rows = statement.executeQuery(sql)) {
            rows.next();
            return rows.getInt(1);
        }
    }
}
