package io.evenwarm.monitor.store;

import java.nio.file.Path;
import org.junit.jupiter.api.io.TempDir;

/** {@link HistoryStoreTest} with the store on a PostgreSQL server. */
@NeedsPostgres
final class HistoryStoreOnPostgresTest extends HistoryStoreTest {

    HistoryStoreOnPostgresTest(@TempDir Path folder) throws StoreException {
        super(folder);
    }

    @Override
    HistoryStore open(Path folder) throws StoreException {
        return HistoryStore.openAt(Postgres.urlOf(folder));
    }
}
