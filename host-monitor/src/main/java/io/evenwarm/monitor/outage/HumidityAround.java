package io.evenwarm.monitor.outage;

import io.evenwarm.message.ProbePlace;
import io.evenwarm.monitor.history.CabinetCurves;
import io.evenwarm.monitor.history.Curve;
import io.evenwarm.monitor.history.ProbeCurve;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;

/**
 * What a hygrometer read before and after an outage; what it was in between nobody knows. Relative
 * humidity in %.
 *
 * @param lastPercent mean of the last 10 min that were read before it
 * @param firstPercent the first that was read after it
 * @param leastPercent that was read after it
 * @param greatestPercent that was read after it
 */
public record HumidityAround(
        String probe,
        OptionalDouble lastPercent,
        OptionalDouble firstPercent,
        OptionalDouble leastPercent,
        OptionalDouble greatestPercent) {

    private static final long LAST_MILLIS = 600_000;

    /**
     * One for each hygrometer in the cabinet.
     *
     * @param around the hours before the begin and after the end
     */
    public static List<HumidityAround> of(CabinetCurves around, Instant begin, Instant end) {
        List<HumidityAround> found = new ArrayList<>();
        for (ProbeCurve probe : around.probes()) {
            if (probe.unit() == ProbeCurve.Unit.PERCENT_RELATIVE_HUMIDITY
                    && probe.place().kind() != ProbePlace.Kind.AMBIENT) {
                found.add(of(probe, begin.toEpochMilli(), end.toEpochMilli()));
            }
        }
        return found;
    }

    private static HumidityAround of(ProbeCurve probe, long beginMillis, long endMillis) {
        Curve curve = probe.curve();
        long last = lastRead(curve, beginMillis);
        double sum = 0;
        int count = 0;
        double first = Double.NaN;
        double least = Double.NaN;
        double greatest = Double.NaN;
        for (int i = 0; i < curve.size(); i++) {
            double value = curve.value(i);
            if (!Double.isFinite(value)) {
                continue;
            }
            if (curve.epochMillis(i) <= last && curve.epochMillis(i) > last - LAST_MILLIS) {
                sum += value;
                count++;
            } else if (curve.epochMillis(i) >= endMillis) {
                first = Double.isNaN(first) ? value : first;
                least = Double.isNaN(least) ? value : Math.min(least, value);
                greatest = Double.isNaN(greatest) ? value : Math.max(greatest, value);
            }
        }
        return new HumidityAround(
                probe.probe().value(),
                known(sum / count),
                known(first),
                known(least),
                known(greatest));
    }

    private static long lastRead(Curve curve, long beginMillis) {
        long last = Long.MIN_VALUE / 2;
        for (int i = 0; i < curve.size() && curve.epochMillis(i) <= beginMillis; i++) {
            last = Double.isFinite(curve.value(i)) ? curve.epochMillis(i) : last;
        }
        return last;
    }

    private static OptionalDouble known(double value) {
        return Double.isNaN(value) ? OptionalDouble.empty() : OptionalDouble.of(value);
    }
}
