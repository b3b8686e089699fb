package io.evenwarm.monitor.store;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.Arrays;
import java.util.List;
import java.util.regex.Pattern;

/**
 * The tables, as numbered steps: step n turns a store of version n−1 into one of version n. Steps
 * that a release has shipped never change. Each is a file of SQL beside this class, {@code
 * step-1.sql} and so on. {@code docs/file-formats.md} says what the columns mean.
 */
final class Schema {

    /** "Evwm" in ASCII, in the file's header: tells our store from another program's file. */
    static final int APPLICATION_ID = 0x4576776d;

    /** The last step there is. */
    static final int VERSION = 8;

    private static final Pattern COMMENT = Pattern.compile("(?m)^--.*$");

    private Schema() {}

    /**
     * Brings the store up to {@link #VERSION}, each step whole or not at all.
     *
     * @throws StoreException when the file belongs to another program or a newer version; it is
     *     then as it was
     */
    static void bringUpToDate(Connection connection, Path file)
            throws SQLException, StoreException {
        bringUpTo(VERSION, connection, file);
    }

    /** As {@link #bringUpToDate}, to an earlier version, as an archive may need it. */
    static void bringUpTo(int target, Connection connection, Path file)
            throws SQLException, StoreException {
        int version = check(connection, file);
        connection.setAutoCommit(false);
        try (Statement statement = connection.createStatement()) {
            for (int step = version; step < target; step++) {
                for (String sql : statements(step + 1)) {
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

    /**
     * Requires a store of this version.
     *
     * @throws StoreException when it is another one
     */
    static void requireCurrent(Connection connection, Path file)
            throws SQLException, StoreException {
        int version = check(connection, file);
        if (version < VERSION) {
            throw new StoreException(
                    file
                            + " is of an older version ("
                            + version
                            + "; this one writes "
                            + VERSION
                            + "). Start the monitor once: it brings it up to date");
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
                                + " is another program's SQLite file, not a monitor's store. Move"
                                + " it away, or name another data_folder");
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

    /** What a step does, statement by statement. */
    static List<String> statements(int step) {
        String resource = "step-" + step + ".sql";
        try (InputStream in = Schema.class.getResourceAsStream(resource)) {
            if (in == null) {
                throw new IllegalStateException(resource + " is missing in this build");
            }
            String text = new String(in.readAllBytes(), StandardCharsets.UTF_8);
            return Arrays.stream(COMMENT.matcher(text).replaceAll("").split(";", -1))
                    .map(String::strip)
                    .filter(sql -> !sql.isEmpty())
                    .toList();
        } catch (IOException e) {
            throw new UncheckedIOException("reading " + resource, e);
        }
    }

    private static int number(Statement statement, String sql) throws SQLException {
        try (ResultSet rows = statement.executeQuery(sql)) {
            rows.next();
            return rows.getInt(1);
        }
    }
}
