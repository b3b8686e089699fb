package io.evenwarm.monitor.app;

import io.evenwarm.monitor.history.CabinetCurves;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.HistoryQueries;
import io.evenwarm.monitor.history.LogEntry;
import io.evenwarm.monitor.history.TimeSpan;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicBoolean;

/**
 * Watches for the first curve that the history gives out: what is drawn next is the first curve
 * that a person sees.
 */
final class FirstCurve implements HistoryQueries {

    private static final int POINTS_OF_A_LINE = 2;

    private final HistoryQueries inner;
    private final Runnable onFirst;
    private final AtomicBoolean isSeen = new AtomicBoolean();

    FirstCurve(HistoryQueries inner, Runnable onFirst) {
        this.inner = inner;
        this.onFirst = onFirst;
    }

    boolean isSeen() {
        return isSeen.get();
    }

    @Override
    public List<CabinetKey> cabinets() {
        return inner.cabinets();
    }

    @Override
    public Optional<TimeSpan> extent(CabinetKey key) {
        return inner.extent(key);
    }

    @Override
    public CabinetCurves curves(CabinetKey key, TimeSpan span) {
        CabinetCurves curves = inner.curves(key, span);
        if (curves.probes().stream().anyMatch(p -> p.curve().size() >= POINTS_OF_A_LINE)
                && isSeen.compareAndSet(false, true)) {
            onFirst.run();
        }
        return curves;
    }

    @Override
    public List<LogEntry> log(Optional<CabinetKey> key, TimeSpan span, int limit) {
        return inner.log(key, span, limit);
    }
}
