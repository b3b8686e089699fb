package io.evenwarm.monitor.store;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;

/** One SQLite file. */
final class SqliteDatabase implements Database {

    private final Path file;
    private final Connections.Tuning tuning;

    SqliteDatabase(Path file) {
        this(file, connection -> {});
    }

    /** {@code tuning} has a last word on the writing connection. */
    SqliteDatabase(Path file, Connections.Tuning tuning) {
        this.file = file;
        this.tuning = tuning;
    }

    @Override
    public String where() {
        return file.toString();
    }

    @Override
    public Connection openForWriting() throws SQLException, StoreException {
        Connection connection = Connections.openForWriting(file);
        boolean done = false;
        try {
            Schema.bringUpToDate(connection, file);
            Connections.makeDurable(connection);
            tuning.apply(connection);
            done = true;
            return connection;
        } finally {
            if (!done) {
                Connections.closeQuietly(connection);
            }
        }
    }

    @Override
    public Connection openForReading() throws SQLException {
        return Connections.openForReading(file);
    }

    @Override
    public StoreException trouble(String doing, SQLException cause) {
        return StoreException.of(doing, file, cause);
    }

    @Override
    public List<String> damage(Connection connection) throws SQLException {
        List<String> found = new ArrayList<>();
        try (Statement statement = connection.createStatement()) {
            try (ResultSet rows = statement.executeQuery("PRAGMA integrity_check")) {
                while (rows.next()) {
                    String words = String.valueOf(rows.getString(1));
                    if (!words.equals("ok")) {
                        found.add(words.strip());
                    }
                }
            }
            try (ResultSet rows = statement.executeQuery("PRAGMA foreign_key_check")) {
                while (rows.next()) {
                    found.add(
                            "a row of "
                                    + rows.getString(1)
                                    + " names a row of "
                                    + rows.getString(3)
                                    + " that is not there");
                }
            }
        }
        return found;
    }

    /** SQLite gives the number after the greatest there is. */
    @Override
    public void afterRowsCame(Connection connection) {}
}
