package io.evenwarm.monitor.store;

import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.List;
import java.util.Properties;

/**
 * A database of a PostgreSQL server, for keepers with many rooms. The tables are those of the
 * SQLite file, made by the same steps; their types have the server's names.
 */
final class PostgresDatabase implements Database {

    /** What a store's URL begins with. */
    static final String URL_BEGIN = "jdbc:postgresql:";

    private static final String CONNECT_SECONDS_MAX = "10";
    private static final int LOCK_SECONDS_MAX = 3;

    /** PostgreSQL documentation, appendix A: {@code lock_not_available}. */
    private static final String LOCK_NOT_AVAILABLE = "55P03";

    private final String url;

    PostgresDatabase(String url) {
        this.url = url;
    }

    /** Without parameters: a password may be among them. */
    @Override
    public String where() {
        int parameters = url.indexOf('?');
        return parameters < 0 ? url : url.substring(0, parameters);
    }

    /**
     * With synchronous_commit, which is the server's default: what was committed survives a power
     * cut of the server (PostgreSQL documentation, "Asynchronous Commit").
     */
    @Override
    public Connection openForWriting() throws SQLException, StoreException {
        Connection connection = connect();
        boolean done = false;
        try {
            takeLock(connection);
            bringUpToDate(connection);
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
        Connection connection = connect();
        connection.setReadOnly(true);
        connection.setTransactionIsolation(Connection.TRANSACTION_REPEATABLE_READ);
        return connection;
    }

    Connection connect() throws SQLException {
        Properties properties = new Properties();
        properties.setProperty("connectTimeout", CONNECT_SECONDS_MAX);
        properties.setProperty("ApplicationName", "evenwarm");
        properties.setProperty("reWriteBatchedInserts", "true");
        return DriverManager.getConnection(url, properties);
    }

    /**
     * Keeps a second monitor away: both would take the same records from an agent. The server drops
     * the lock with the connection, whatever ended it, but may need a moment to see that it ended.
     */
    private void takeLock(Connection connection) throws SQLException, StoreException {
        try (Statement statement = connection.createStatement()) {
            statement.execute("SET lock_timeout = '" + LOCK_SECONDS_MAX + "s'");
            statement.execute("SELECT pg_advisory_lock(" + Schema.APPLICATION_ID + ")");
            statement.execute("SET lock_timeout = 0");
        } catch (SQLException e) {
            if (!LOCK_NOT_AVAILABLE.equals(e.getSQLState())) {
                throw e;
            }
            throw new StoreException(
                    "another monitor is using "
                            + where()
                            + ": end it, or give this one a database of its own",
                    e);
        }
    }

    /**
     * Requires a store of this version.
     *
     * @throws StoreException when there is none, or another one
     */
    void requireCurrent(Connection connection) throws SQLException, StoreException {
        int version = version(connection);
        if (version < Schema.VERSION) {
            throw new StoreException(
                    version == 0
                            ? "there is no store in " + where() + " yet"
                            : where()
                                    + " is of an older version ("
                                    + version
                                    + "; this one writes "
                                    + Schema.VERSION
                                    + "). Start the monitor once: it brings it up to date");
        }
    }

    private void bringUpToDate(Connection connection) throws SQLException, StoreException {
        int version = version(connection);
        connection.setAutoCommit(false);
        try (Statement statement = connection.createStatement()) {
            for (int step = version + 1; step <= Schema.VERSION; step++) {
                if (step == 1) {
                    statement.execute("CREATE TABLE store_version (version BIGINT NOT NULL)");
                    statement.execute("INSERT INTO store_version VALUES (0)");
                }
                for (String sql : Schema.statements(step)) {
                    statement.execute(inServersWords(sql));
                }
                statement.execute("UPDATE store_version SET version = " + step);
                connection.commit();
            }
        } catch (SQLException e) {
            connection.rollback();
            throw e;
        } finally {
            connection.setAutoCommit(true);
        }
    }

    private int version(Connection connection) throws SQLException, StoreException {
        if (ask(connection, "SELECT to_regclass('store_version') IS NULL").equals("t")) {
            String tables =
                    ask(
                            connection,
                            "SELECT count(*) FROM pg_tables WHERE schemaname = current_schema()");
            if (!tables.equals("0")) {
                throw new StoreException(
                        where()
                                + " holds "
                                + tables
                                + " tables of another program and no store. Give the monitor a"
                                + " database of its own");
            }
            return 0;
        }
        int version = Integer.parseInt(ask(connection, "SELECT version FROM store_version"));
        if (version > Schema.VERSION) {
            throw new StoreException(
                    where()
                            + " was written by a newer Evenwarm (store version "
                            + version
                            + "; this one knows up to "
                            + Schema.VERSION
                            + "). Start that version again, or name another database");
        }
        return version;
    }

    /** The types of the steps, which are SQLite's, by the names that mean the same here. */
    static String inServersWords(String sql) {
        return sql.replace(
                        "id INTEGER PRIMARY KEY",
                        "id BIGINT GENERATED BY DEFAULT AS IDENTITY PRIMARY KEY")
                .replaceAll("\\bINTEGER\\b", "BIGINT")
                .replaceAll("\\bREAL\\b", "DOUBLE PRECISION")
                .replaceAll("\\) STRICT(, WITHOUT ROWID)?$", ")");
    }

    private static String ask(Connection connection, String sql) throws SQLException {
        try (Statement statement = connection.createStatement();
                ResultSet rows = statement.executeQuery(sql)) {
            return rows.next() ? String.valueOf(rows.getString(1)) : "";
        }
    }

    @Override
    public StoreException trouble(String doing, SQLException cause) {
        return new StoreException(doing + " " + where() + ": " + advice(cause), cause);
    }

    private static String advice(SQLException cause) {
        // PostgreSQL documentation, appendix A, "PostgreSQL Error Codes": the first two characters
        // are the class.
        String state = String.valueOf(cause.getSQLState());
        String message = String.valueOf(cause.getMessage());
        if (state.startsWith("08")) {
            return "the server can't be reached ("
                    + message
                    + "). Nothing is lost while the agents keep their journals";
        }
        if (state.startsWith("28") || state.startsWith("3D")) {
            return "the server refuses ("
                    + message
                    + "). Are user, password and database in [history] url right?";
        }
        if (state.startsWith("53")) {
            return "the server has no room left ("
                    + message
                    + "). Nothing is lost while the agents keep their journals: make room, and the"
                    + " monitor goes on by itself";
        }
        if (state.equals("42501")) {
            return "its user may not do that (" + message + "). Grant it the right";
        }
        return message;
    }

    /** A server looks after its files itself. */
    @Override
    public List<String> damage(Connection connection) {
        return List.of();
    }

    @Override
    public void afterRowsCame(Connection connection) throws SQLException {
        for (String table : StoreArchive.TABLES_WITH_ID) {
            ask(
                    connection,
                    "SELECT setval(pg_get_serial_sequence('"
                            + table
                            + "', 'id'), (SELECT coalesce(max(id), 0) + 1 FROM "
                            + table
                            + "), false)");
        }
    }
}
