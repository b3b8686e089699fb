package io.evenwarm.monitor.store;

import java.nio.file.Path;
import org.junit.jupiter.api.io.TempDir;

/** {@link StoredAlarmsTest} with the store on a PostgreSQL server. */
@NeedsPostgres
final class StoredAlarmsOnPostgresTest extends StoredAlarmsTest {

    StoredAlarmsOnPostgresTest(@TempDir Path folder) throws StoreException {
        super(folder);
    }

    @Override
    HistoryStore open(Path at) throws StoreException {
        return HistoryStore.openAt(Postgres.urlOf(at));
    }
}
