package io.evenwarm.monitor.view;

import io.evenwarm.monitor.chart.ChartSpec;
import io.evenwarm.monitor.chart.ProbeTrace;
import java.time.Instant;
import java.time.ZoneId;
import java.util.Optional;

/** What should be said about a chart that shows less than a person might expect. */
final class ChartNotes {

    private ChartNotes() {}

    static Optional<String> note(
            ChartSpec spec, Optional<HistoryWorker.Answer> answer, Instant now, ZoneId zone) {
        Optional<String> trouble = answer.flatMap(HistoryWorker.Answer::trouble);
        if (trouble.isPresent()) {
            return trouble;
        }
        if (answer.isEmpty()) {
            return Optional.of("Fetching what is stored…");
        }
        long from = spec.span().from().toEpochMilli();
        long to = spec.span().to().toEpochMilli();
        boolean any = false;
        for (ProbeTrace probe : spec.probes()) {
            any |= probe.trace().hasPointBetween(from, to);
        }
        if (any) {
            return Optional.empty();
        }
        Optional<Instant> first = answer.get().first();
        return Optional.of(
                first.map(
                                begin ->
                                        "No readings in this span. The first that is stored is from "
                                                + Words.moment(begin, now, zone)
                                                + ".")
                        .orElse("No readings are stored of this cabinet yet."));
    }
}
