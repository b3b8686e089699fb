package io.evenwarm.monitor.store;

import java.nio.file.Path;
import org.junit.jupiter.api.io.TempDir;

/** {@link ExchangeTest} with the stores on a PostgreSQL server. */
@NeedsPostgres
final class ExchangeOnPostgresTest extends ExchangeTest {

    ExchangeOnPostgresTest(@TempDir Path folder, @TempDir Path elsewhere) throws StoreException {
        super(folder, elsewhere);
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
