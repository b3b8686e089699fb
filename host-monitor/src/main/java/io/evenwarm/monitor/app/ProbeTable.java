package io.evenwarm.monitor.app;

import io.evenwarm.message.ProbeName;
import io.evenwarm.monitor.evenness.Estimate;
import io.evenwarm.monitor.evenness.Measure;
import io.evenwarm.monitor.evenness.ProbeEntry;
import io.evenwarm.monitor.evenness.ProbeOffset;
import io.evenwarm.monitor.evenness.ProbeRecord;
import io.evenwarm.monitor.evenness.ProbeTrust;
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
import java.util.OptionalInt;
import java.util.stream.Collectors;

/**
 * The thermometers of cabinets as a table: what they read, and how far that can be believed.
 *
 * @param record of what is known of them
 * @param wallNow by this machine's clock
 */
record ProbeTable(ProbeRecord record, Wording wording, Instant wallNow) {

    /** A probe without a reading for so long, before its cabinet's newest, is not listed. */
    private static final Duration RECENT = Duration.ofHours(1);

    /** Thermometers of a cabinet that read lately. */
    static List<ProbeCurve> thermometers(HistoryQueries history, CabinetKey key) {
        Optional<TimeSpan> extent = history.extent(key);
        if (extent.isEmpty()) {
            return List.of();
        }
        Instant end = extent.get().to().plusMillis(1);
        CabinetCurves lately = history.everyReading(key, new TimeSpan(end.minus(RECENT), end));
        return lately.probes().stream()
                .filter(probe -> probe.unit() == ProbeCurve.Unit.CELSIUS)
                .toList();
    }

    /**
     * A thermometer that read lately.
     *
     * @throws IllegalArgumentException when the cabinet has none of that name
     */
    static ProbeName known(HistoryQueries history, CabinetKey key, String name) {
        List<ProbeCurve> there = thermometers(history, key);
        return there.stream()
                .map(ProbeCurve::probe)
                .filter(probe -> probe.value().equals(name))
                .findFirst()
                .orElseThrow(
                        () ->
                                new IllegalArgumentException(
                                        "PROBE must be one of "
                                                + there.stream()
                                                        .map(probe -> probe.probe().value())
                                                        .collect(Collectors.joining(", "))
                                                + ", but was \""
                                                + name
                                                + "\""));
    }

    /** Now, at a cabinet: its own clock may be ahead of this machine's, as in a simulation. */
    static Instant now(HistoryQueries history, CabinetKey key, Instant wallNow) {
        return history.extent(key).map(TimeSpan::to).filter(wallNow::isBefore).orElse(wallNow);
    }

    List<String> lines(List<CabinetKey> keys, HistoryQueries history, boolean all) {
        List<String> lines = new ArrayList<>();
        for (CabinetKey key : keys) {
            lines.add(CabinetChoice.full(key));
            Instant now = now(history, key, wallNow);
            for (ProbeCurve probe : thermometers(history, key)) {
                lines.add("  " + line(key, probe, now));
                if (all) {
                    record.of(key, probe.probe())
                            .forEach(entry -> lines.add("    " + words(entry, wording)));
                }
            }
        }
        return lines;
    }

    private String line(CabinetKey key, ProbeCurve probe, Instant now) {
        ProbeTrust trust = trust(key, probe.probe(), now);
        String reading =
                newest(probe.curve()).stream()
                        .mapToObj(i -> reading(trust, probe.curve().value(i)) + "; ")
                        .collect(Collectors.joining());
        return probe.probe()
                + ": "
                + reading
                + trust.grounds(wording)
                + due(key, probe.probe(), now);
    }

    private String reading(ProbeTrust trust, double raw) {
        return wording.value(Measure.TEMPERATURE, trust.quality().reading(raw));
    }

    private ProbeTrust trust(CabinetKey key, ProbeName probe, Instant now) {
        return record.trust(key, probe, now);
    }

    private String due(CabinetKey key, ProbeName probe, Instant now) {
        Optional<ProbeEntry> check = record.lastCheck(key, probe, now);
        if (check.isEmpty()) {
            return "";
        }
        Instant at = check.get().at().plus(ProbeOffset.USUAL_INTERVAL);
        return (isDue(key, probe, now) ? "; CHECK DUE since " : "; next check due ")
                + wording.time(at);
    }

    private boolean isDue(CabinetKey key, ProbeName probe, Instant now) {
        return record.isDue(key, probe, now, ProbeOffset.USUAL_INTERVAL);
    }

    private static OptionalInt newest(Curve curve) {
        for (int i = curve.size() - 1; i >= 0; i--) {
            if (!Double.isNaN(curve.value(i))) {
                return OptionalInt.of(i);
            }
        }
        return OptionalInt.empty();
    }

    /** One entry of a probe's record. */
    static String words(ProbeEntry entry, Wording wording) {
        return ProbeTrust.source(entry, wording)
                + entry.offset()
                        .map(
                                offset ->
                                        ": "
                                                + wording.signed(Measure.TEMPERATURE, offset)
                                                + " to add")
                        .orElse("");
    }

    String json(List<CabinetKey> keys, HistoryQueries history) {
        List<String> probes = new ArrayList<>();
        for (CabinetKey key : keys) {
            Instant now = now(history, key, wallNow);
            for (ProbeCurve probe : thermometers(history, key)) {
                probes.add(json(key, probe, now));
            }
        }
        return Json.object(Json.member("probes", Json.array(probes)));
    }

    private String json(CabinetKey key, ProbeCurve probe, Instant now) {
        ProbeTrust trust = trust(key, probe.probe(), now);
        OptionalInt newest = newest(probe.curve());
        Optional<Estimate> reading =
                newest.isEmpty()
                        ? Optional.empty()
                        : Optional.of(
                                trust.quality().reading(probe.curve().value(newest.getAsInt())));
        return Json.object(
                Json.member("agent", Json.text(key.agent().value())),
                Json.member("cabinet", Json.text(key.cabinet().value())),
                Json.member("position", Json.text(probe.place().label())),
                Json.member(
                        "correctedCelsius",
                        reading.map(there -> EvennessJson.number(there.value())).orElse("null")),
                Json.member("trust", EvennessJson.of(trust)),
                Json.member("isCheckDue", Boolean.toString(isDue(key, probe.probe(), now))),
                Json.member(
                        "record",
                        Json.array(
                                record.of(key, probe.probe()).stream().map(this::json).toList())));
    }

    /** One entry as JSON. */
    String json(ProbeEntry entry) {
        Optional<Estimate> change = record.changeBefore(entry);
        return Json.object(
                Json.member("probe", Json.text(entry.probe().value())),
                Json.member("at", Json.text(entry.at().toString())),
                Json.member("kind", Json.text(entry.kind().key())),
                Json.member("reference", Json.text(entry.reference())),
                Json.member("offsetKelvin", number(entry.offset().map(Estimate::value))),
                Json.member(
                        "offsetExpandedUncertaintyKelvin",
                        number(entry.offset().map(Estimate::expanded))),
                Json.member("changeKelvin", number(change.map(Estimate::value))),
                Json.member(
                        "changeExpandedUncertaintyKelvin", number(change.map(Estimate::expanded))),
                Json.member(
                        "hasDrifted",
                        change.map(there -> Boolean.toString(there.isBeyondZero()))
                                .orElse("null")));
    }

    private static String number(Optional<Double> value) {
        return value.map(EvennessJson::number).orElse("null");
    }
}
