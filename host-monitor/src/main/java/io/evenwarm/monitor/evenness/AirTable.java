package io.evenwarm.monitor.evenness;

import io.evenwarm.message.ProbeName;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.CabinetSummaries;
import io.evenwarm.monitor.history.ProbeCurve;
import io.evenwarm.monitor.history.ProbeSummaries;
import io.evenwarm.monitor.history.Summaries;
import io.evenwarm.monitor.history.TimeSpan;
import java.util.Arrays;
import java.util.List;

/**
 * A cabinet's air in stretches of {@link AirStretch#LENGTH_MILLIS}: each air thermometer's mean,
 * the heater's share, the set point; NaN where there is none.
 */
public final class AirTable {

    private final CabinetKey key;
    private final long beginMillis;
    private final int size;
    private final List<ProbeSummaries> probes;
    private final List<Position> positions;
    private final double[][] celsius;
    private final double[] duty;
    private final double[] setPointCelsius;

    private AirTable(
            CabinetKey key, TimeSpan span, List<ProbeSummaries> probes, CabinetSummaries cabinet) {
        this.key = key;
        this.probes = probes;
        beginMillis = ceiling(span.from().toEpochMilli());
        size =
                (int)
                        Math.max(
                                0,
                                (span.to().toEpochMilli() - beginMillis)
                                        / AirStretch.LENGTH_MILLIS);
        positions = Position.of(probes.stream().map(ProbeSummaries::place).toList());
        celsius = new double[probes.size()][];
        for (int i = 0; i < celsius.length; i++) {
            celsius[i] = means(probes.get(i).summaries());
        }
        duty = means(cabinet.heaterOnFraction());
        setPointCelsius = means(cabinet.setPointCelsius());
    }

    /**
     * Of summaries of ten minutes.
     *
     * @param span whose whole stretches are wanted
     */
    public static AirTable of(
            CabinetKey key, TimeSpan span, List<ProbeSummaries> probes, CabinetSummaries cabinet) {
        return new AirTable(
                key,
                span,
                probes.stream()
                        .filter(probe -> probe.unit() == ProbeCurve.Unit.CELSIUS)
                        .filter(probe -> probe.place().kind().isAir())
                        .toList(),
                cabinet);
    }

    private static long ceiling(long millis) {
        return millis + Math.floorMod(-millis, AirStretch.LENGTH_MILLIS);
    }

    private double[] means(Summaries summaries) {
        double[] means = new double[size];
        Arrays.fill(means, Double.NaN);
        for (int i = 0; i < summaries.size(); i++) {
            long slot = (summaries.beginMillis(i) - beginMillis) / AirStretch.LENGTH_MILLIS;
            boolean isInside = summaries.beginMillis(i) >= beginMillis && slot < size;
            // A stretch that is mostly bad says nothing.
            if (isInside && summaries.count(i) > summaries.badCount(i)) {
                means[(int) slot] = summaries.mean(i);
            }
        }
        return means;
    }

    CabinetKey key() {
        return key;
    }

    int size() {
        return size;
    }

    long beginMillis(int slot) {
        return beginMillis + slot * AirStretch.LENGTH_MILLIS;
    }

    /** End of the last stretch, in milliseconds since the epoch: where to go on. */
    public long endMillis() {
        return beginMillis(size);
    }

    int probes() {
        return celsius.length;
    }

    ProbeName probe(int index) {
        return probes.get(index).probe();
    }

    Position position(int index) {
        return positions.get(index);
    }

    /** What tells it from the others of the cabinet: one that moved is another one. */
    String name(int index) {
        return probe(index) + " at " + place(index);
    }

    /** Where it is, as its keeper calls it. */
    String place(int index) {
        return probes.get(index).place().label();
    }

    double celsius(int probe, int slot) {
        return celsius[probe][slot];
    }

    double duty(int slot) {
        return duty[slot];
    }

    double setPointCelsius(int slot) {
        return setPointCelsius[slot];
    }

    /** Mean of all air thermometers; NaN where none has one. */
    double meanCelsius(int slot) {
        double sum = 0;
        int count = 0;
        for (double[] of : celsius) {
            if (!Double.isNaN(of[slot])) {
                sum += of[slot];
                count++;
            }
        }
        return count == 0 ? Double.NaN : sum / count;
    }
}
