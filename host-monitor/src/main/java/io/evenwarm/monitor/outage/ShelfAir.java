package io.evenwarm.monitor.outage;

import io.evenwarm.monitor.history.CabinetCurves;
import io.evenwarm.monitor.history.ProbeCurve;
import io.evenwarm.monitor.history.TimeSpan;
import java.util.HashMap;
import java.util.Locale;
import java.util.Map;
import java.util.OptionalDouble;

/** How warm each shelf's air was beside the mean of the cabinet's, by its probe's place. */
public final class ShelfAir {

    private final Map<String, Double> aboveMeanKelvin;

    private ShelfAir(Map<String, Double> aboveMeanKelvin) {
        this.aboveMeanKelvin = aboveMeanKelvin;
    }

    /**
     * Takes the means of a span.
     *
     * @param curves touch the span
     */
    public static ShelfAir of(CabinetCurves curves, TimeSpan span) {
        Map<String, Double> means = new HashMap<>();
        for (ProbeCurve probe : curves.probes()) {
            if (probe.unit() == ProbeCurve.Unit.CELSIUS && probe.place().kind().isAir()) {
                mean(probe, span).ifPresent(mean -> means.put(name(probe.place().label()), mean));
            }
        }
        double all = means.values().stream().mapToDouble(Double::doubleValue).average().orElse(0);
        means.replaceAll((place, mean) -> mean - all);
        return new ShelfAir(means);
    }

    private static OptionalDouble mean(ProbeCurve probe, TimeSpan span) {
        double sum = 0;
        int count = 0;
        long from = span.from().toEpochMilli();
        long to = span.to().toEpochMilli();
        for (int i = 0; i < probe.curve().size(); i++) {
            long at = probe.curve().epochMillis(i);
            if (at >= from && at < to && Double.isFinite(probe.curve().value(i))) {
                sum += probe.curve().value(i);
                count++;
            }
        }
        return count == 0 ? OptionalDouble.empty() : OptionalDouble.of(sum / count);
    }

    /** By how much a shelf's air was above the mean, K; empty where no probe has its name. */
    public OptionalDouble aboveMeanKelvin(String shelf) {
        Double above = aboveMeanKelvin.get(name(shelf));
        return above == null ? OptionalDouble.empty() : OptionalDouble.of(above);
    }

    /** Of the coldest shelf, K; 0 or less. */
    public double coldestKelvin() {
        return aboveMeanKelvin.values().stream().mapToDouble(Double::doubleValue).min().orElse(0);
    }

    /** Of the warmest shelf, K; 0 or more. */
    public double warmestKelvin() {
        return aboveMeanKelvin.values().stream().mapToDouble(Double::doubleValue).max().orElse(0);
    }

    private static String name(String place) {
        return place.strip().toLowerCase(Locale.ROOT);
    }
}
