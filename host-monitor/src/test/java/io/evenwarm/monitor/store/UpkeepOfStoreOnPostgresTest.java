package io.evenwarm.monitor.store;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import org.junit.jupiter.api.io.TempDir;

/** {@link UpkeepOfStoreTest} with the store on a PostgreSQL server. */
@NeedsPostgres
final class UpkeepOfStoreOnPostgresTest extends UpkeepOfStoreTest {

    UpkeepOfStoreOnPostgresTest(@TempDir Path folder) throws StoreException {
        super(folder);
    }

    @Override
    HistoryStore open(Path folder) throws StoreException {
        return HistoryStore.openAt(Postgres.urlOf(folder));
    }

    @Override
    Connection connect(Path folder) throws SQLException {
        return DriverManager.getConnection(Postgres.urlOf(folder));
    }
}
