package io.evenwarm.monitor.evenness;

import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.monitor.history.CabinetCurves;
import io.evenwarm.monitor.history.Curve;
import io.evenwarm.monitor.history.ProbeCurve;
import io.evenwarm.monitor.history.TimeSpan;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.TreeSet;

/**
 * What a keeper asks of the history of a cabinet, as a survey's input.
 *
 * @param without probes to leave out
 * @param stepKelvin the smallest step of all thermometers, in place of what is known of each
 * @param classKelvin ± of all thermometers, in place of what is known of each
 * @param offsets of thermometers, by probe, in place of what the record has
 * @param record of what is known of probes
 * @param setPointCelsius in place of the history's
 * @param limitKelvin of the deviation from the set point
 * @param humidityLimitPercent of the deviation from the mean humidity
 * @param load what is known of what stood in the cabinet
 * @param stands which probes were moved, and where each stood when
 */
public record SurveyQuestion(
        Set<String> without,
        OptionalDouble stepKelvin,
        OptionalDouble classKelvin,
        Map<String, Offset> offsets,
        ProbeRecord record,
        OptionalDouble setPointCelsius,
        double limitKelvin,
        OptionalDouble humidityLimitPercent,
        SurveyLoad.Known load,
        Stands stands,
        Wording wording) {

    /**
     * What a comparison found.
     *
     * @param kelvin to add to what the probe reads
     * @param expandedKelvin its uncertainty, 95 %
     */
    public record Offset(double kelvin, double expandedKelvin) {}

    /** A probe at a place: all the time, or in some stays. */
    private record Standing(ProbeCurve probe, ProbePlace place, List<TimeSpan> stays) {}

    /** As a keeper goes through a cabinet; places that say nothing of height come last. */
    private static final Comparator<SurveyPoint> FROM_THE_TOP =
            Comparator.<SurveyPoint>comparingDouble(
                            point -> point.position().spot().map(spot -> -spot.up()).orElse(1.0))
                    .thenComparingDouble(
                            point -> point.position().spot().map(Position.Spot::back).orElse(0.0))
                    .thenComparingDouble(
                            point -> point.position().spot().map(Position.Spot::across).orElse(0.0))
                    .thenComparing(SurveyPoint::probe);

    /** For 95 % two-sided (GUM, G.3, many degrees of freedom). */
    private static final double COVERAGE = 2;

    /** A survey as it is made where nobody says otherwise. */
    public static SurveyQuestion usual(
            ProbeRecord record, SurveyLoad.Known load, Stands stands, Wording wording) {
        return new SurveyQuestion(
                Set.of(),
                OptionalDouble.empty(),
                OptionalDouble.empty(),
                Map.of(),
                record,
                OptionalDouble.empty(),
                SurveyInput.DIN_12880_KELVIN,
                OptionalDouble.empty(),
                load,
                stands,
                wording);
    }

    /**
     * @param knownAt by what was known of the probes then; not before the span's end
     * @throws IllegalArgumentException when probes are named that have no reading, or there are too
     *     many points
     */
    SurveyInput input(CabinetCurves curves, Optional<Instant> doorOpenedAt, Instant knownAt) {
        requireKnown(curves);
        List<ProbeCurve> air = new ArrayList<>();
        Curve ambient = Curve.empty();
        for (ProbeCurve probe : curves.probes()) {
            if (without.contains(probe.probe().value())) {
                continue;
            }
            if (probe.place().kind() == ProbePlace.Kind.AMBIENT
                    && probe.unit() == ProbeCurve.Unit.CELSIUS) {
                ambient = probe.curve();
            } else if (probe.place().kind().isAir()) {
                air.add(probe);
            }
        }
        Map<String, Map<ProbePlace, List<TimeSpan>>> moved =
                stands.places(curves, without, wording);
        List<Standing> standings = new ArrayList<>();
        for (ProbeCurve probe : air) {
            Map<ProbePlace, List<TimeSpan>> its =
                    moved.getOrDefault(probe.probe().value(), Map.of(probe.place(), List.of()));
            its.forEach((place, stays) -> standings.add(new Standing(probe, place, stays)));
        }
        List<Position> positions = Position.of(standings.stream().map(Standing::place).toList());
        List<SurveyPoint> temperatures = new ArrayList<>();
        List<SurveyPoint> humidities = new ArrayList<>();
        for (int i = 0; i < standings.size(); i++) {
            ProbeCurve probe = standings.get(i).probe();
            boolean isTemperature = probe.unit() == ProbeCurve.Unit.CELSIUS;
            (isTemperature ? temperatures : humidities)
                    .add(
                            new SurveyPoint(
                                    probe.probe().value(),
                                    positions.get(i),
                                    isTemperature
                                            ? trust(probe.probe(), curves, knownAt).quality()
                                            : sensor(probe.probe(), curves).hygrometer(),
                                    probe.curve(),
                                    standings.get(i).stays()));
        }
        temperatures.sort(FROM_THE_TOP);
        humidities.sort(FROM_THE_TOP);
        return new SurveyInput(
                curves.span(),
                temperatures,
                humidities,
                setPointCelsius.isPresent()
                        ? constant(curves.span(), setPointCelsius.getAsDouble())
                        : curves.setPointCelsius(),
                curves.heaterOnFraction(),
                ambient,
                limitKelvin,
                humidityLimitPercent,
                doorOpenedAt,
                wording);
    }

    private void requireKnown(CabinetCurves curves) {
        Set<String> unknown = new TreeSet<>(without);
        unknown.addAll(offsets.keySet());
        Set<String> known = new TreeSet<>();
        curves.probes().forEach(probe -> known.add(probe.probe().value()));
        unknown.removeAll(known);
        if (!unknown.isEmpty()) {
            throw new IllegalArgumentException(
                    "--without and --offset must name probes of this span, "
                            + String.join(", ", known)
                            + ", but named "
                            + String.join(", ", unknown));
        }
    }

    /** How far each thermometer of the survey can be believed, as surveyed. */
    List<ProbeTrust> trust(CabinetCurves curves, SurveyInput input, Instant knownAt) {
        return input.temperatures().stream()
                .map(SurveyPoint::probe)
                .distinct()
                .map(probe -> trust(new ProbeName(probe), curves, knownAt))
                .toList();
    }

    private ProbeTrust trust(ProbeName probe, CabinetCurves curves, Instant knownAt) {
        SensorClass sensor = sensor(probe, curves);
        ProbeQuality known = sensor.thermometer();
        ProbeQuality asBought =
                ProbeQuality.uncompared(
                        stepKelvin.orElse(known.resolution()),
                        classKelvin.orElse(known.classHalfWidth()));
        Offset offset = offsets.get(probe.value());
        if (offset != null) {
            return new ProbeTrust(
                    probe,
                    new ProbeQuality(
                            asBought.resolution(),
                            asBought.classHalfWidth(),
                            offset.kelvin(),
                            OptionalDouble.of(offset.expandedKelvin() / COVERAGE),
                            0),
                    Optional.empty(),
                    sensor);
        }
        return record.trust(curves.key(), probe, curves.span(), knownAt, sensor, asBought);
    }

    private SensorClass sensor(ProbeName probe, CabinetCurves curves) {
        return record.sensor(curves.key(), probe, curves.span().to());
    }

    private static Curve constant(TimeSpan span, double value) {
        return Curve.of(new long[] {span.from().toEpochMilli()}, new double[] {value}, 1);
    }
}
