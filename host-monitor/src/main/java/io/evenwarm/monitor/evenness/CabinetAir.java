package io.evenwarm.monitor.evenness;

import io.evenwarm.monitor.history.CabinetKey;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * What a cabinet's long record says: whether its fan moves the air as it did, and whether its
 * probes still agree.
 *
 * <p>One thread; tables oldest first, each once, the first reading included.
 */
public final class CabinetAir {

    private final AirFlow flow;
    private final ProbePattern pattern;
    private final SamePlace samePlace;
    private List<ProbeAstray> astray = List.of();

    /**
     * @param record of what is known of the probes
     * @param flowBegin since when its keeper wants it learned
     */
    public CabinetAir(CabinetKey key, ProbeRecord record, Optional<Instant> flowBegin) {
        long said = flowBegin.map(Instant::toEpochMilli).orElse(Long.MIN_VALUE);
        long flowFrom = said;
        long patternFrom = said;
        Set<String> known = new HashSet<>();
        for (ProbeEntry entry : record.entries()) {
            if (!entry.key().equals(key)) {
                continue;
            }
            long at = entry.at().toEpochMilli();
            boolean isFirst = known.add(entry.probe().value());
            boolean isExchanged = entry.kind() == ProbeEntry.Kind.EXCHANGED;
            if (!entry.kind().isCheck()) {
                // From here on readings come otherwise.
                flowFrom = Math.max(flowFrom, at);
            }
            if (isFirst || isExchanged) {
                // From here on corrected readings are others.
                patternFrom = Math.max(patternFrom, at);
            }
        }
        flow = new AirFlow(flowFrom);
        pattern = new ProbePattern(record, patternFrom);
        samePlace = new SamePlace(record);
    }

    /** Takes what came next. */
    public void add(AirTable table) {
        FanState unused = flow.add(table);
        List<ProbeAstray> all = new ArrayList<>(samePlace.add(table));
        all.addAll(pattern.add(table));
        astray = List.copyOf(all);
    }

    /** Whether the cabinet is known: what comes next is judged, not learned. */
    public boolean isLearned() {
        return flow.state().fold(learning -> false, s -> true, w -> true, s -> true)
                && pattern.isLearned();
    }

    public AirFlow flow() {
        return flow;
    }

    /** Probes that can't be believed beside the others: at one place first, then the farthest. */
    public List<ProbeAstray> astray() {
        return astray;
    }
}
