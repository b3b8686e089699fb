package io.evenwarm.monitor.store;

import io.evenwarm.monitor.history.CabinetCurves;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.HistoryQueries;
import io.evenwarm.monitor.history.LogEntry;
import io.evenwarm.monitor.history.ProbeSummaries;
import io.evenwarm.monitor.history.Tier;
import io.evenwarm.monitor.history.TimeSpan;
import java.io.UncheckedIOException;
import java.sql.Connection;
import java.sql.SQLException;
import java.util.List;
import java.util.Optional;

/** Asks a store from outside, on a connection a question. */
final class OutsideQueries implements HistoryQueries {

    private final StoreOutside store;
    private final Database database;

    OutsideQueries(StoreOutside store, Database database) {
        this.store = store;
        this.database = database;
    }

    private <R> R read(ReadPool.Query<R> query) {
        try (Connection connection = store.open()) {
            return query.run(connection);
        } catch (SQLException e) {
            throw new UncheckedIOException(database.trouble("can't read", e));
        } catch (StoreException e) {
            throw new UncheckedIOException(e);
        }
    }

    @Override
    public List<CabinetKey> cabinets() {
        return read(connection -> new CurveReader(connection).cabinets());
    }

    @Override
    public Optional<TimeSpan> extent(CabinetKey key) {
        return read(connection -> new CurveReader(connection).extent(key));
    }

    @Override
    public CabinetCurves curves(CabinetKey key, TimeSpan span) {
        return read(connection -> new CurveReader(connection).curves(key, span));
    }

    @Override
    public CabinetCurves everyReading(CabinetKey key, TimeSpan span) {
        return read(connection -> new CurveReader(connection).everyReading(key, span));
    }

    @Override
    public List<ProbeSummaries> summaries(CabinetKey key, TimeSpan span, Tier tier) {
        return read(connection -> new CurveReader(connection).summaries(key, span, tier));
    }

    @Override
    public List<LogEntry> log(Optional<CabinetKey> key, TimeSpan span, int limit) {
        return read(connection -> new LogReader(connection).entries(key, span, limit));
    }
}
