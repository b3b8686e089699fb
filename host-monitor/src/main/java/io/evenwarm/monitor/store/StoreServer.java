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
        Connection connection = database.openForReading();
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
