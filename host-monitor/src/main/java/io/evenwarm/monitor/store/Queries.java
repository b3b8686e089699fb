package io.evenwarm.monitor.store;

import io.evenwarm.monitor.history.CabinetCurves;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.CabinetSummaries;
import io.evenwarm.monitor.history.HistoryQueries;
import io.evenwarm.monitor.history.LogEntry;
import io.evenwarm.monitor.history.ProbeSummaries;
import io.evenwarm.monitor.history.Tier;
import io.evenwarm.monitor.history.TimeSpan;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/** What is asked of the history, whoever lends the connections. */
abstract class Queries implements HistoryQueries {

    /**
     * Runs a query on a connection of its own.
     *
     * @throws java.io.UncheckedIOException when the store can't be read
     */
    abstract <R> R read(ReadPool.Query<R> query);

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
    public CabinetSummaries cabinetSummaries(CabinetKey key, TimeSpan span, Tier tier) {
        return read(connection -> new CurveReader(connection).cabinetSummaries(key, span, tier));
    }

    @Override
    public List<LogEntry> log(Optional<CabinetKey> key, TimeSpan span, int limit) {
        return read(connection -> new LogReader(connection).entries(key, span, limit));
    }

    @Override
    public List<Instant> plannedWork(CabinetKey key, TimeSpan span) {
        return read(connection -> new LogReader(connection).plannedWork(key, span));
    }
}
