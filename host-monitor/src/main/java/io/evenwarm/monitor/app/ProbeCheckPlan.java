package io.evenwarm.monitor.app;

import io.evenwarm.message.ProbeName;
import io.evenwarm.monitor.evenness.Estimate;
import io.evenwarm.monitor.evenness.Measure;
import io.evenwarm.monitor.evenness.Position;
import io.evenwarm.monitor.evenness.ProbeCheck;
import io.evenwarm.monitor.evenness.ProbeCheckResult;
import io.evenwarm.monitor.evenness.ProbeEntry;
import io.evenwarm.monitor.evenness.ProbeOffset;
import io.evenwarm.monitor.evenness.ProbeQuality;
import io.evenwarm.monitor.evenness.ProbeRecord;
import io.evenwarm.monitor.evenness.SurveyPoint;
import io.evenwarm.monitor.evenness.Wording;
import io.evenwarm.monitor.history.CabinetCurves;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.Curve;
import io.evenwarm.monitor.history.HistoryQueries;
import io.evenwarm.monitor.history.ProbeCurve;
import io.evenwarm.monitor.history.TimeSpan;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Collectors;

/**
 * A check of probes: which, against what, in what.
 *
 * @param probes those that are checked
 * @param beside the probe that is the reference, where one is
 * @param readsCelsius what a thermometer beside them reads, where that is the reference
 * @param reference what it is called
 * @param referenceQuality how good it is; empty for ice
 * @param known of the probes before the check
 */
record ProbeCheckPlan(
        CabinetKey key,
        List<ProbeName> probes,
        Optional<ProbeName> beside,
        OptionalDouble readsCelsius,
        String reference,
        Optional<ProbeQuality> referenceQuality,
        ProbeCheck.Bath bath,
        ProbeRecord known) {

    private static final Duration LOOKED_AT = Duration.ofMinutes(60);
    private static final long MINUTE_MILLIS = 60_000;

    ProbeCheckPlan {
        probes = List.copyOf(probes);
    }

    private boolean isIce() {
        return beside.isEmpty() && readsCelsius.isEmpty();
    }

    /** What a person is to do first. */
    String instruction() {
        String all = probes.stream().map(ProbeName::value).collect(Collectors.joining(", "));
        return "with the cabinet's heater switched off and no eggs in it, put "
                + all
                + beside.map(probe -> " and " + probe).orElse("")
                + (isIce()
                        ? " into melting ice: a vacuum flask of crushed ice of clean water, wet"
                                + " through, all tips in its middle, stirred now and then."
                        : " tip to tip"
                                + (beside.isPresent() ? "" : " with " + reference)
                                + (bath.equals(ProbeCheck.Bath.BUNDLE_IN_AIR)
                                        ? " into a tin in moved air."
                                        : " into a vacuum flask of water as warm as eggs have it,"
                                                + " stirred now and then. Probes that are not sealed"
                                                + " go into a thin bag."));
    }

    /** The cabinet's newest moment. */
    Instant newest(HistoryQueries history) {
        return history.extent(key)
                .map(TimeSpan::to)
                .orElseThrow(() -> new IllegalArgumentException("no reading of " + key));
    }

    /** The same of the last hour since the begin, in whole minutes back from its end. */
    ProbeCheckResult checkUntil(HistoryQueries history, Instant begin, Instant end) {
        long minutes =
                Math.min(
                        LOOKED_AT.toMinutes(),
                        Math.max(0, Duration.between(begin, end).toMinutes()));
        return check(history, new TimeSpan(end.minusMillis(minutes * MINUTE_MILLIS), end));
    }

    /** What readings of a span say. */
    ProbeCheckResult check(HistoryQueries history, TimeSpan span) {
        CabinetCurves curves = history.everyReading(key, span);
        List<SurveyPoint> points =
                probes.stream()
                        .map(
                                probe ->
                                        point(
                                                curves,
                                                probe,
                                                known.sensor(key, probe, span.to()).thermometer()))
                        .toList();
        if (isIce()) {
            return ProbeCheck.icePoint(span, points, bath);
        }
        return ProbeCheck.sideBySide(span, referencePoint(curves), points, bath);
    }

    private SurveyPoint referencePoint(CabinetCurves curves) {
        if (readsCelsius.isPresent()) {
            return new SurveyPoint(
                    reference,
                    new Position(reference, Optional.empty()),
                    referenceQuality.orElseThrow(),
                    steady(curves.span(), readsCelsius.getAsDouble()));
        }
        return point(curves, beside.orElseThrow(), referenceQuality.orElseThrow());
    }

    private static SurveyPoint point(CabinetCurves curves, ProbeName probe, ProbeQuality quality) {
        Curve curve =
                curves.probes().stream()
                        .filter(there -> there.probe().equals(probe))
                        .filter(there -> there.unit() == ProbeCurve.Unit.CELSIUS)
                        .map(ProbeCurve::curve)
                        .reduce((moved, there) -> there)
                        .orElse(Curve.empty());
        return new SurveyPoint(
                probe.value(), new Position(probe.value(), Optional.empty()), quality, curve);
    }

    /** A thermometer that is read once stands still for the whole of the time. */
    private static Curve steady(TimeSpan span, double celsius) {
        int size = (int) (span.length().toMillis() / MINUTE_MILLIS) + 1;
        long[] times = new long[size];
        double[] values = new double[size];
        for (int i = 0; i < size; i++) {
            times[i] = span.from().toEpochMilli() + i * MINUTE_MILLIS;
            values[i] = celsius;
        }
        return Curve.of(times, values, size);
    }

    /** What is to be kept of a check. */
    List<ProbeEntry> entries(ProbeCheckResult result) {
        List<ProbeOffset> offsets =
                result.fold(ProbeCheckResult.Checked::offsets, withheld -> List.of());
        List<ProbeEntry> entries = new ArrayList<>();
        for (ProbeOffset offset : offsets) {
            entries.add(
                    new ProbeEntry(
                            key,
                            new ProbeName(offset.probe()),
                            offset.at(),
                            isIce() ? ProbeEntry.Kind.ICE_POINT : ProbeEntry.Kind.SIDE_BY_SIDE,
                            reference,
                            Optional.of(offset.offset())));
        }
        return entries;
    }

    /** For a person. */
    List<String> lines(List<ProbeEntry> entries, ProbeRecord record, Wording wording) {
        List<String> lines = new ArrayList<>();
        lines.add(
                CabinetChoice.full(key)
                        + ", "
                        + (isIce() ? "in " : "side by side with ")
                        + reference
                        + ", "
                        + wording.time(entries.get(0).at())
                        + "; to add to what each probe reads, ± for 95 %:");
        ProbeRecord with = with(record, entries);
        for (ProbeEntry entry : entries) {
            lines.add(
                    "  "
                            + entry.probe()
                            + ": "
                            + signed(entry.offset().orElseThrow(), wording)
                            + with.changeBefore(entry)
                                    .map(change -> drift(change, with, entry, wording))
                                    .orElse(""));
        }
        return lines;
    }

    private static String drift(
            Estimate change, ProbeRecord record, ProbeEntry entry, Wording wording) {
        return (change.isBeyondZero() ? "; DRIFTED: " : "; no drift to be seen: ")
                + signed(change, wording)
                + " since "
                + wording.time(record.checkBefore(entry).orElseThrow().at());
    }

    private static ProbeRecord with(ProbeRecord record, List<ProbeEntry> entries) {
        return record.with(entries);
    }

    private static String signed(Estimate estimate, Wording wording) {
        return wording.signed(Measure.TEMPERATURE, estimate);
    }

    String json(List<ProbeEntry> entries, ProbeRecord record, Wording wording, boolean isKept) {
        ProbeTable table = new ProbeTable(with(record, entries), wording, entries.get(0).at());
        return Json.object(
                Json.member("agent", Json.text(key.agent().value())),
                Json.member("cabinet", Json.text(key.cabinet().value())),
                Json.member("isKept", Boolean.toString(isKept)),
                Json.member("offsets", Json.array(entries.stream().map(table::json).toList())));
    }
}
