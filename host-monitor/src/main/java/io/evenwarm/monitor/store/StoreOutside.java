package io.evenwarm.monitor.store;

import io.evenwarm.monitor.history.ReadingFilter;
import io.evenwarm.monitor.history.ReadingSink;
import java.io.IOException;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;

/** A store as seen from outside: read as of one moment, also while a monitor writes. */
public abstract sealed class StoreOutside permits StoreFile, StoreServer {

    private final Database database;

    StoreOutside(Database database) {
        this.database = database;
    }

    /** A connection to a store of this version. */
    abstract Connection open() throws SQLException, StoreException;

    /**
     * Verifies the store.
     *
     * @throws StoreException when it can't be read at all
     */
    public StoreReport check() throws StoreException {
        try (Connection connection = open()) {
            return new StoreCheck(connection).run(database);
        } catch (SQLException e) {
            throw database.trouble("can't check", e);
        }
    }

    /**
     * Hands out readings, probe by probe, oldest first.
     *
     * @return how many there were
     */
    public long exportReadings(ReadingFilter filter, ReadingSink sink) throws IOException {
        try (Connection connection = open()) {
            return new ReadingExport(connection).run(filter, sink);
        } catch (SQLException e) {
            throw database.trouble("can't read", e);
        }
    }

    /**
     * Writes everything into one archive, a new file.
     *
     * @return how many rows there were
     */
    public long exportAll(Path archive) throws IOException {
        try (Connection connection = open()) {
            return new StoreArchive(connection).write(archive);
        } catch (SQLException e) {
            throw database.trouble("can't read", e);
        }
    }
}
