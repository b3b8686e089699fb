package io.evenwarm.monitor.evenness;

import io.evenwarm.message.ProbeName;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.TimeSpan;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * What is known of probes, and from when on: which offset is in force at a time, how far the probe
 * may have drifted since, when its next check is due.
 *
 * @param entries each probe's oldest first
 * @param sensors what agents said that the probes are, each probe's oldest first
 */
public record ProbeRecord(List<ProbeEntry> entries, List<KnownSensor> sensors) {

    public static final ProbeRecord EMPTY = new ProbeRecord(List.of(), List.of());

    /**
     * How far a thermometer may drift in a year, ±. The DS18B20's datasheet gives ±0.2 K, from a
     * stress of 1000 h at 125 °C (19-7487, electrical characteristics, from memory); that a year in
     * a warm cabinet is no worse is common practice, no source.
     */
    public static final double DRIFT_KELVIN_A_YEAR = 0.2;

    private static final double YEAR_MILLIS = 365.25 * 86_400_000;

    public ProbeRecord {
        entries = List.copyOf(entries);
        sensors = List.copyOf(sensors);
    }

    /** The same, and what came to be known later. */
    public ProbeRecord with(List<ProbeEntry> later) {
        List<ProbeEntry> all = new ArrayList<>(entries);
        all.addAll(later);
        return new ProbeRecord(all, sensors);
    }

    /**
     * What a probe was at a time, by what its agent said last before; where it said nothing until
     * then, by what it said first.
     */
    public SensorClass sensor(CabinetKey key, ProbeName probe, Instant at) {
        Optional<KnownSensor> known = Optional.empty();
        for (KnownSensor sensor : sensors) {
            boolean isIts = sensor.key().equals(key) && sensor.probe().equals(probe);
            if (isIts && (known.isEmpty() || !sensor.at().isAfter(at))) {
                known = Optional.of(sensor);
            }
        }
        return SensorClass.of(known.map(KnownSensor::sensor));
    }

    /** One probe's entries, oldest first. */
    public List<ProbeEntry> of(CabinetKey key, ProbeName probe) {
        return entries.stream()
                .filter(entry -> entry.key().equals(key) && entry.probe().equals(probe))
                .toList();
    }

    /** What counts at a time: the last entry until then. */
    public Optional<ProbeEntry> inForce(CabinetKey key, ProbeName probe, Instant at) {
        return of(key, probe).stream()
                .filter(entry -> !entry.at().isAfter(at))
                .reduce((earlier, later) -> later);
    }

    /** The last comparison of a probe that still counts at a time. */
    public Optional<ProbeEntry> lastCheck(CabinetKey key, ProbeName probe, Instant at) {
        Optional<ProbeEntry> last = Optional.empty();
        for (ProbeEntry entry : of(key, probe)) {
            if (entry.at().isAfter(at)) {
                break;
            }
            if (entry.kind().isCheck()) {
                last = Optional.of(entry);
            } else if (entry.kind() == ProbeEntry.Kind.EXCHANGED) {
                last = Optional.empty();
            }
        }
        return last;
    }

    /** The comparison before another one, where readings since are those of the same probe. */
    public Optional<ProbeEntry> checkBefore(ProbeEntry check) {
        return lastCheck(check.key(), check.probe(), check.at().minusMillis(1))
                .filter(
                        earlier ->
                                between(check.key(), check.probe(), earlier.at(), check.at())
                                        .isEmpty());
    }

    /**
     * Whether the last comparison of a probe is longer ago than the interval.
     *
     * @return false for one that was never compared: nobody has begun to keep a record of it
     */
    public boolean isDue(CabinetKey key, ProbeName probe, Instant now, Duration interval) {
        return lastCheck(key, probe, now)
                .flatMap(ProbeEntry::found)
                .map(check -> check.isDue(now, interval))
                .orElse(false);
    }

    /** What parts readings before it from those after it. */
    private List<ProbeEntry> between(CabinetKey key, ProbeName probe, Instant from, Instant to) {
        return of(key, probe).stream()
                .filter(entry -> !entry.kind().isCheck())
                .filter(entry -> entry.at().isAfter(from) && !entry.at().isAfter(to))
                .toList();
    }

    /**
     * How far readings of a span can be believed, by the entry in force at its end.
     *
     * <p>By what was known later, where two surveys are compared: then the probe's own error drops
     * out of the change. Where readings of the span are not those of the probe as it was known
     * then, what was in force at their own time counts.
     *
     * @param knownAt not before the span's end
     * @throws IllegalArgumentException when the probe was exchanged, or its agent given its offset,
     *     in the middle of the span
     */
    public ProbeTrust trust(CabinetKey key, ProbeName probe, TimeSpan span, Instant knownAt) {
        SensorClass sensor = sensor(key, probe, span.to());
        return trust(key, probe, span, knownAt, sensor, sensor.thermometer());
    }

    /**
     * The same by another datasheet.
     *
     * @param asBought of the probe while it was never compared
     */
    ProbeTrust trust(
            CabinetKey key,
            ProbeName probe,
            TimeSpan span,
            Instant knownAt,
            SensorClass sensor,
            ProbeQuality asBought) {
        Optional<ProbeEntry> parting =
                between(key, probe, span.from(), span.to().minusMillis(1)).stream().findFirst();
        if (parting.isPresent()) {
            throw new IllegalArgumentException(
                    probe
                            + ": "
                            + parting.get().kind().words()
                            + " at "
                            + parting.get().at()
                            + ", in the middle of the span: choose one that ends before or begins"
                            + " after that");
        }
        Optional<ProbeEntry> known =
                between(key, probe, span.to(), knownAt).isEmpty()
                        ? inForce(key, probe, knownAt)
                        : inForce(key, probe, span.to());
        return new ProbeTrust(
                probe,
                known.map(entry -> quality(entry, span.to(), asBought)).orElse(asBought),
                known,
                sensor);
    }

    /** How far a reading of one moment can be believed. */
    public ProbeTrust trust(CabinetKey key, ProbeName probe, Instant at) {
        return trust(key, probe, new TimeSpan(at, at), at);
    }

    private static ProbeQuality quality(ProbeEntry entry, Instant at, ProbeQuality asBought) {
        if (entry.offset().isEmpty()) {
            return asBought;
        }
        Estimate offset = entry.offset().get();
        double years = Math.abs(Duration.between(entry.at(), at).toMillis()) / YEAR_MILLIS;
        return new ProbeQuality(
                asBought.resolution(),
                asBought.classHalfWidth(),
                offset.value(),
                // As much as its ± for 95 % says, for whom 2 u is 95 %.
                OptionalDouble.of(offset.expanded() / 2),
                Math.min(asBought.classHalfWidth(), years * DRIFT_KELVIN_A_YEAR));
    }

    /** How far a probe has gone from the comparison before to this one. */
    public Optional<Estimate> changeBefore(ProbeEntry check) {
        return checkBefore(check)
                .flatMap(ProbeEntry::offset)
                .flatMap(then -> check.offset().map(now -> now.minus(then)));
    }
}
