package io.evenwarm.monitor.store;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import org.sqlite.SQLiteConfig;
import org.sqlite.SQLiteOpenMode;

/** How the store's connections are set up. */
final class Connections {

    private static final int BUSY_MILLIS_MAX = 5000;

    private Connections() {}

    /** Sets up a connection further, for example to make its disk seem small. */
    @FunctionalInterface
    interface Tuning {
        void apply(Connection connection) throws SQLException;
    }

    /**
     * The one connection that writes. WAL with synchronous FULL: the log is synced at each commit,
     * so what was committed survives a power cut (sqlite.org/pragma.html, "synchronous").
     */
    static Connection openForWriting(Path file) throws SQLException {
        SQLiteConfig config = new SQLiteConfig();
        config.setBusyTimeout(BUSY_MILLIS_MAX);
        config.enforceForeignKeys(true);
        return config.createConnection(url(file));
    }

    /** Only now, after the file has proved to be ours: this writes to it. */
    static void makeDurable(Connection connection) throws SQLException {
        try (Statement statement = connection.createStatement()) {
            statement.execute("PRAGMA journal_mode = WAL");
            statement.execute("PRAGMA synchronous = FULL");
        }
    }

    static Connection openForReading(Path file) throws SQLException {
        SQLiteConfig config = new SQLiteConfig();
        config.setBusyTimeout(BUSY_MILLIS_MAX);
        config.resetOpenMode(SQLiteOpenMode.CREATE);
        Connection connection = config.createConnection(url(file));
        try (Statement statement = connection.createStatement()) {
            statement.execute("PRAGMA query_only = 1");
            // 16 MB: a day of one cabinet at one record a second, twice.
            statement.execute("PRAGMA cache_size = -16000");
        }
        return connection;
    }

    static void closeQuietly(Connection connection) {
        try {
            connection.close();
        } catch (SQLException e) {
            System.getLogger(Connections.class.getName())
                    .log(System.Logger.Level.DEBUG, "closing a connection", e);
        }
    }

    private static String url(Path file) {
        return "jdbc:sqlite:" + file;
    }
}
