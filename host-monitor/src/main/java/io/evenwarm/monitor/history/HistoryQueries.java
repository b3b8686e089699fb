package io.evenwarm.monitor.history;

import java.util.List;
import java.util.Optional;

/**
 * Asks for what was. Any thread but the window's may call these; each may take tens of
 * milliseconds.
 */
public interface HistoryQueries {

    /** Every cabinet that has ever sent history. */
    List<CabinetKey> cabinets();

    /** First to last reading of a cabinet; empty when there is none. */
    Optional<TimeSpan> extent(CabinetKey key);

    /** Curves of a span, with every reading that is stored. */
    CabinetCurves curves(CabinetKey key, TimeSpan span);

    /** The newest entries of the log that touch the span, newest first, at most {@code limit}. */
    List<LogEntry> log(Optional<CabinetKey> key, TimeSpan span, int limit);
}
