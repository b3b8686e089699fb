package io.evenwarm.monitor.app;

import io.evenwarm.message.ProbeName;
import io.evenwarm.monitor.evenness.ProbeCheck;
import io.evenwarm.monitor.evenness.ProbeQuality;
import io.evenwarm.monitor.evenness.ProbeRecord;
import io.evenwarm.monitor.evenness.SensorClass;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.HistoryQueries;
import io.evenwarm.monitor.history.ProbeCurve;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;

/** Which probes are compared with what. */
final class ProbeCheckOptions {

    private static final double CELSIUS_MIN = -10;
    private static final double CELSIUS_MAX = 60;
    private static final double PLUS_MINUS_MAX = 2;

    @Option(names = "--ice", description = "in melting ice: crushed ice of clean water, stirred")
    private boolean ice;

    @Option(
            names = "--beside",
            paramLabel = "PROBE",
            description = "beside a probe of this cabinet that is the reference")
    private @Nullable String beside;

    @Option(
            names = "--reads",
            paramLabel = "CELSIUS",
            description = "beside a thermometer that is read by eye once all have settled")
    private @Nullable Double readsCelsius;

    @Option(
            names = "--reference",
            paramLabel = "NAME",
            description =
                    "what the reference is, with its certificate's number; needed unless --ice")
    private @Nullable String reference;

    @Option(
            names = "--plus-minus",
            paramLabel = "KELVIN",
            description =
                    "how good the reference is, ± for 95 %%, from its certificate; needed with"
                            + " --reads, and with --beside unless that probe was checked itself")
    private @Nullable Double plusMinusKelvin;

    @Option(
            names = "--probe",
            paramLabel = "PROBE",
            description = "one to check; may be said again; by default all of the cabinet")
    private List<String> probes = List.of();

    @Option(
            names = "--in-air",
            description = "bundled in moved air, not in stirred water: places there differ more")
    private boolean isInAir;

    /**
     * @param now when the reference is looked at
     * @throws IllegalArgumentException when they don't go together, or not with the cabinet
     */
    ProbeCheckPlan plan(CabinetKey key, HistoryQueries history, ProbeRecord record, Instant now) {
        int ways = (ice ? 1 : 0) + (beside == null ? 0 : 1) + (readsCelsius == null ? 0 : 1);
        if (ways != 1) {
            throw new IllegalArgumentException(
                    "one of --ice, --beside PROBE and --reads CELSIUS must be given, but "
                            + ways
                            + " were");
        }
        if (ice && isInAir) {
            throw new IllegalArgumentException("--ice and --in-air exclude each other");
        }
        if (!ice && (reference == null || reference.isBlank())) {
            throw new IllegalArgumentException(
                    "--reference must name what the probes are compared with, for example"
                            + " \"glass thermometer, certificate 17/2026\"");
        }
        requireRange("--plus-minus", plusMinusKelvin, Math.ulp(1.0), PLUS_MINUS_MAX, "K");
        requireRange("--reads", readsCelsius, CELSIUS_MIN, CELSIUS_MAX, "°C");
        Optional<ProbeName> besides =
                beside == null
                        ? Optional.empty()
                        : Optional.of(ProbeTable.known(history, key, beside));
        List<ProbeName> checked = new ArrayList<>();
        if (probes.isEmpty()) {
            ProbeTable.thermometers(history, key).stream()
                    .map(ProbeCurve::probe)
                    .distinct()
                    .forEach(checked::add);
        } else {
            probes.forEach(name -> checked.add(ProbeTable.known(history, key, name)));
        }
        besides.ifPresent(checked::remove);
        if (checked.isEmpty()) {
            throw new IllegalArgumentException(
                    CabinetChoice.full(key) + " has no thermometer to check that read lately");
        }
        return new ProbeCheckPlan(
                key,
                checked,
                besides,
                readsCelsius == null ? OptionalDouble.empty() : OptionalDouble.of(readsCelsius),
                reference == null ? "melting ice" : reference,
                referenceQuality(key, besides, record, now),
                isInAir ? ProbeCheck.Bath.BUNDLE_IN_AIR : ProbeCheck.Bath.STIRRED_WATER,
                record);
    }

    /** As said, or as is on record of the probe that is the reference; empty for ice. */
    private Optional<ProbeQuality> referenceQuality(
            CabinetKey key, Optional<ProbeName> besides, ProbeRecord record, Instant now) {
        if (plusMinusKelvin != null) {
            // Of a probe the step comes on top; a thermometer's certificate counts it in.
            double step =
                    besides.map(probe -> record.sensor(key, probe, now).thermometer().resolution())
                            .orElse(0.0);
            return Optional.of(
                    new ProbeQuality(step, 0, 0, OptionalDouble.of(plusMinusKelvin / 2), 0));
        }
        if (ice) {
            return Optional.empty();
        }
        ProbeQuality onRecord =
                besides.map(probe -> record.trust(key, probe, now).quality())
                        .orElse(SensorClass.UNKNOWN.thermometer());
        if (onRecord.offsetUncertainty().isEmpty()) {
            throw new IllegalArgumentException(
                    "--plus-minus must say how good the reference is (± for 95 percent, from its"
                            + " certificate): an offset is no better than what it was taken from");
        }
        return Optional.of(onRecord);
    }

    private static void requireRange(
            String option, @Nullable Double value, double least, double most, String unit) {
        if (value != null && !(value >= least && value <= most)) {
            throw new IllegalArgumentException(
                    option
                            + " must be "
                            + (least < 0 ? least : "above 0")
                            + " to "
                            + most
                            + " "
                            + unit
                            + " but was "
                            + value);
        }
    }
}
