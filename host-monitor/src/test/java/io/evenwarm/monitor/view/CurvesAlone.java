package io.evenwarm.monitor.view;

import io.evenwarm.monitor.history.CabinetCurves;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.CabinetSummaries;
import io.evenwarm.monitor.history.HistoryQueries;
import io.evenwarm.monitor.history.LogEntry;
import io.evenwarm.monitor.history.ProbeSummaries;
import io.evenwarm.monitor.history.Summaries;
import io.evenwarm.monitor.history.Tier;
import io.evenwarm.monitor.history.TimeSpan;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/** A history that has curves, and nothing else unless a test says so. */
abstract class CurvesAlone implements HistoryQueries {

    @Override
    public CabinetCurves everyReading(CabinetKey key, TimeSpan span) {
        return curves(key, span);
    }

    @Override
    public List<ProbeSummaries> summaries(CabinetKey key, TimeSpan span, Tier tier) {
        return List.of();
    }

    @Override
    public CabinetSummaries cabinetSummaries(CabinetKey key, TimeSpan span, Tier tier) {
        Summaries none = new Summaries.Builder(tier.stepMillis()).build();
        return new CabinetSummaries(none, none);
    }

    @Override
    public List<Instant> plannedWork(CabinetKey key, TimeSpan span) {
        return List.of();
    }

    @Override
    public List<LogEntry> log(Optional<CabinetKey> key, TimeSpan span, int limit) {
        return List.of();
    }
}
