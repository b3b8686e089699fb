package io.evenwarm.monitor.report;

import io.evenwarm.monitor.evenness.AirTable;
import io.evenwarm.monitor.evenness.CabinetAir;
import io.evenwarm.monitor.evenness.ProbeRecord;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.HistoryQueries;
import io.evenwarm.monitor.history.Tier;
import io.evenwarm.monitor.history.TimeSpan;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;

/**
 * The air of one cabinet as its history has it, from the first reading on and then as readings
 * come: each stretch is read once. One thread.
 */
public final class AirHistory {

    /** So much is read at a time. */
    private static final Duration CHUNK = Duration.ofDays(20);

    /** A chart that called for longer is at its end; so is a probe that has drifted for longer. */
    private static final int RECENT_DAYS = 90;

    private final CabinetKey key;
    private final ProbeRecord record;
    private final Optional<Instant> flowBegin;
    private CabinetAir air;
    private Optional<Instant> readUntil = Optional.empty();

    public AirHistory(CabinetKey key, ProbeRecord record, Optional<Instant> flowBegin) {
        this.key = key;
        this.record = record;
        this.flowBegin = flowBegin;
        air = new CabinetAir(key, record, flowBegin);
    }

    /** Whether it still stands on what is known of the cabinet; else it must be read anew. */
    public boolean isOf(ProbeRecord newest, Optional<Instant> newestBegin) {
        return record.equals(newest) && flowBegin.equals(newestBegin);
    }

    /** Reads what came since the last time, up to now. */
    public CabinetAir read(HistoryQueries history) {
        return history.extent(key).map(extent -> read(history, extent)).orElse(air);
    }

    /**
     * The same, and the first time no more of a long record than it takes to know how things stand:
     * what the cabinet was learned of, and the last {@value #RECENT_DAYS} days. What was called
     * before those and still holds, is then said to hold since they began.
     */
    public CabinetAir readToKnowNow(HistoryQueries history) {
        Optional<TimeSpan> extent = history.extent(key);
        if (extent.isEmpty() || readUntil.isPresent()) {
            return read(history);
        }
        Instant recent = extent.get().to().minus(Duration.ofDays(RECENT_DAYS));
        Instant from = start(extent.get());
        while (from.isBefore(recent) && !air.isLearned()) {
            from = readChunk(history, from, extent.get().to());
        }
        long since = air.flow().sinceMillis();
        readUntil = Optional.of(from.isBefore(recent) ? recent : from);
        CabinetAir now = read(history);
        if (now.flow().sinceMillis() != since && since != Long.MAX_VALUE) {
            // Other probes stand there than those it was learned of: when they came must be known.
            air = new CabinetAir(key, record, flowBegin);
            readUntil = Optional.empty();
            return read(history);
        }
        return now;
    }

    private Instant start(TimeSpan span) {
        return flowBegin.filter(span.from()::isBefore).orElse(span.from());
    }

    /** Reads what came since the last time, up to the end of a span; nothing before its begin. */
    public CabinetAir read(HistoryQueries history, TimeSpan span) {
        Instant from = readUntil.orElse(start(span));
        Instant before = Instant.MIN;
        while (from.isAfter(before) && from.isBefore(span.to())) {
            before = from;
            from = readChunk(history, from, span.to());
        }
        readUntil = Optional.of(from);
        return air;
    }

    /** Returns where to go on: at the first stretch that was not whole yet. */
    private Instant readChunk(HistoryQueries history, Instant from, Instant end) {
        Instant to = from.plus(CHUNK);
        TimeSpan next = new TimeSpan(from, to.isBefore(end) ? to : end);
        AirTable table =
                AirTable.of(
                        key,
                        next,
                        history.summaries(key, next, Tier.TEN_MINUTES),
                        history.cabinetSummaries(key, next, Tier.TEN_MINUTES));
        air.add(table);
        return Instant.ofEpochMilli(table.endMillis());
    }
}
