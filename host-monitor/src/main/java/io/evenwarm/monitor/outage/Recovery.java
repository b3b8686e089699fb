package io.evenwarm.monitor.outage;

import io.evenwarm.monitor.history.CabinetCurves;
import io.evenwarm.monitor.history.Curve;
import io.evenwarm.monitor.history.ProbeCurve;
import java.time.Duration;
import java.time.Instant;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeMap;

/**
 * How the air came back after an outage, as it was measured.
 *
 * @param lastCelsius mean of the air in the last minute that was read before it
 * @param firstCelsius mean of the air in the first minute that was read
 * @param settledAfter from the end until the mean stayed within 0.5 K of the set point for 30 min;
 *     empty where that was not seen
 * @param overshootKelvin how far the mean went above the set point, K; 0 where it did not
 */
public record Recovery(
        OptionalDouble lastCelsius,
        OptionalDouble firstCelsius,
        Optional<Duration> settledAfter,
        OptionalDouble overshootKelvin) {

    /** Within this of the set point a cabinet has settled, K. */
    public static final double SETTLED_KELVIN = 0.5;

    private static final int SETTLED_MINUTES = 30;
    private static final long MINUTE_MILLIS = 60_000;

    private record Mean(double sum, int count) {
        double value() {
            return sum / count;
        }
    }

    /**
     * Looks how it came back.
     *
     * @param around the hours before the begin and after the end
     */
    public static Recovery of(CabinetCurves around, Instant begin, Instant end) {
        TreeMap<Long, Mean> before = air(around, Long.MIN_VALUE, begin.toEpochMilli() + 1);
        OptionalDouble last =
                before.isEmpty()
                        ? OptionalDouble.empty()
                        : OptionalDouble.of(before.lastEntry().getValue().value());
        TreeMap<Long, Mean> air = air(around, end.toEpochMilli(), Long.MAX_VALUE);
        OptionalDouble wish = last(around.setPointCelsius());
        if (air.isEmpty() || wish.isEmpty()) {
            return new Recovery(
                    last, OptionalDouble.empty(), Optional.empty(), OptionalDouble.empty());
        }
        double setPoint = wish.getAsDouble();
        double most = 0;
        long since = Long.MAX_VALUE;
        Optional<Duration> settled = Optional.empty();
        for (Map.Entry<Long, Mean> minute : air.entrySet()) {
            double above = minute.getValue().value() - setPoint;
            most = Math.max(most, above);
            since =
                    Math.abs(above) > SETTLED_KELVIN
                            ? Long.MAX_VALUE
                            : Math.min(since, minute.getKey());
            if (settled.isEmpty()
                    && since != Long.MAX_VALUE
                    && minute.getKey() - since >= SETTLED_MINUTES) {
                long millis = Math.max(0, since * MINUTE_MILLIS - end.toEpochMilli());
                settled = Optional.of(Duration.ofMillis(millis));
            }
        }
        return new Recovery(
                last,
                OptionalDouble.of(air.firstEntry().getValue().value()),
                settled,
                OptionalDouble.of(most));
    }

    private static TreeMap<Long, Mean> air(CabinetCurves of, long fromMillis, long toMillis) {
        TreeMap<Long, Mean> air = new TreeMap<>();
        for (ProbeCurve probe : of.probes()) {
            if (probe.unit() == ProbeCurve.Unit.CELSIUS && probe.place().kind().isAir()) {
                add(air, probe.curve(), fromMillis, toMillis);
            }
        }
        return air;
    }

    private static void add(TreeMap<Long, Mean> air, Curve curve, long fromMillis, long toMillis) {
        for (int i = 0; i < curve.size(); i++) {
            if (curve.epochMillis(i) >= fromMillis
                    && curve.epochMillis(i) < toMillis
                    && Double.isFinite(curve.value(i))) {
                air.merge(
                        Math.floorDiv(curve.epochMillis(i), MINUTE_MILLIS),
                        new Mean(curve.value(i), 1),
                        (one, other) -> new Mean(one.sum + other.sum, one.count + other.count));
            }
        }
    }

    private static OptionalDouble last(Curve curve) {
        for (int i = curve.size() - 1; i >= 0; i--) {
            if (Double.isFinite(curve.value(i))) {
                return OptionalDouble.of(curve.value(i));
            }
        }
        return OptionalDouble.empty();
    }
}
