package io.evenwarm.monitor.history;

import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * Asks for what was. Any thread but the window's may call these; each may take tens of
 * milliseconds.
 *
 * <p>Times are those of the agents' wall clocks: "now" of a cabinet is its newest snapshot's wall
 * time, which in a fast simulation runs ahead of the monitor's own clock.
 *
 * <p>All of these throw {@link java.io.UncheckedIOException} when the store can't be read; its
 * message is for a person.
 */
public interface HistoryQueries {

    /** Every cabinet that has ever sent history, ordered. */
    List<CabinetKey> cabinets();

    /** First to last reading of a cabinet; empty when there is none. */
    Optional<TimeSpan> extent(CabinetKey key);

    /** Of more rows than this no curve is made. */
    int CURVE_ROWS_MAX = 4000;

    /**
     * Curves of a span to draw, each of at most {@link #CURVE_ROWS_MAX} rows of the store: every
     * reading while they are so few, else the finest tier that is. However long the span, the least
     * and the greatest value of every stretch are on the curve. See {@link SummaryCurves} for its
     * gaps.
     */
    CabinetCurves curves(CabinetKey key, TimeSpan span);

    /**
     * Curves of a span with every reading that is stored, however many. A bad reading is a NaN at
     * its time; where readings are missing for longer than three of their usual intervals, a NaN
     * stands right after the last one before the hole.
     */
    CabinetCurves everyReading(CabinetKey key, TimeSpan span);

    /** One tier of a cabinet over every stretch that touches the span, a probe each. */
    List<ProbeSummaries> summaries(CabinetKey key, TimeSpan span, Tier tier);

    /** The same tier of what the cabinet itself was set to and did. */
    CabinetSummaries cabinetSummaries(CabinetKey key, TimeSpan span, Tier tier);

    /**
     * The newest entries of the log that touch the span, newest first, at most {@code limit}.
     *
     * @param key one cabinet's entries and those about its agent itself; empty for all
     */
    List<LogEntry> log(Optional<CabinetKey> key, TimeSpan span, int limit);

    /** When planned work was begun in a cabinet within the span, in order. */
    List<Instant> plannedWork(CabinetKey key, TimeSpan span);
}
