package io.evenwarm.monitor.store;

import java.nio.file.Path;
import org.junit.jupiter.api.io.TempDir;

/** {@link ProbeEntriesTest} with the store on a PostgreSQL server. */
@NeedsPostgres
final class ProbeEntriesOnPostgresTest extends ProbeEntriesTest {

    ProbeEntriesOnPostgresTest(@TempDir Path folder) throws StoreException {
        super(folder);
    }

    @Override
    HistoryStore open(Path at) throws StoreException {
        return HistoryStore.openAt(Postgres.urlOf(at));
    }

    @Override
    StoreOutside outside(Path at) {
        return new StoreServer(Postgres.urlOf(at));
    }
}
