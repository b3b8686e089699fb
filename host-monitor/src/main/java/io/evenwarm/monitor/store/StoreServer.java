package io.evenwarm.monitor.store;

import java.sql.Connection;
import java.sql.SQLException;

/**
 * Looks after the store on a PostgreSQL server from outside, also while a monitor uses it. The
 * server's files are the server's own to verify.
 */
public final class StoreServer extends StoreOutside {

    private final PostgresDatabase database;

    /** The store of a {@code jdbc:postgresql:…} URL. */
    public StoreServer(String url) {
        this(new PostgresDatabase(url));
    }

    private StoreServer(PostgresDatabase database) {
        super(database);
        this.database = database;
    }

    @Override
    Connection open() throws SQLException, StoreException {
        return current(database.openForReading());
    }

    /** Without the lock of the one that writes history. */
    @Override
    Connection openForWriting() throws SQLException, StoreException {
        return current(database.connect());
    }

    private Connection current(Connection connection) throws SQLException, StoreException {
        boolean done = false;
        try {
            database.requireCurrent(connection);
            done = true;
            return connection;
        } finally {
            if (!done) {
                Connections.closeQuietly(connection);
            }
        }
    }
}
