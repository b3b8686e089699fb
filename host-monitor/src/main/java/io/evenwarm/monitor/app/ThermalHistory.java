package io.evenwarm.monitor.app;

import io.evenwarm.message.ProbePlace;
import io.evenwarm.monitor.history.CabinetCurves;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.Curve;
import io.evenwarm.monitor.history.ProbeCurve;
import io.evenwarm.monitor.history.Tub;
import io.evenwarm.monitor.thermal.ThermalRecord;
import io.evenwarm.monitor.thermal.ThermalRecord.Channel;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/** A cabinet's stored history as the thermal model takes it. */
final class ThermalHistory {

    private static final double GRAMS_PER_KILOGRAM = 1000;

    private ThermalHistory() {}

    /**
     * @param tubs all that ever stood anywhere: when they came and went shows when the load changed
     */
    static ThermalRecord of(CabinetCurves curves, List<Tub> tubs) {
        ThermalRecord.Builder builder =
                new ThermalRecord.Builder(curves.span().from().toEpochMilli());
        for (ProbeCurve probe : curves.probes()) {
            if (probe.unit() == ProbeCurve.Unit.CELSIUS) {
                add(builder, channel(probe.place()), probe.curve());
            }
        }
        Comparator<ProbeCurve> byMean = Comparator.comparingDouble(probe -> mean(probe.curve()));
        List<ProbeCurve> air = curves.probes().stream().filter(ThermalHistory::isAir).toList();
        coldest(air, byMean).ifPresent(probe -> add(builder, Channel.COLDEST_AIR, probe.curve()));
        coldest(air, byMean.reversed())
                .ifPresent(probe -> add(builder, Channel.WARMEST_AIR, probe.curve()));
        add(builder, Channel.DUTY, curves.heaterOnFraction());
        for (Tub tub : tubs) {
            if (tub.key().equals(curves.key())) {
                changed(builder, curves, tub.from().toEpochMilli());
                tub.to().ifPresent(to -> changed(builder, curves, to.toEpochMilli()));
            }
        }
        return builder.build();
    }

    /** What a thermometer at a place tells the model of. */
    static Channel channel(ProbePlace place) {
        return switch (place.kind()) {
            case TUB -> Channel.TUB;
            case AMBIENT -> Channel.ROOM;
            default -> Channel.AIR;
        };
    }

    /** Mass of the tubs that stand in a cabinet now; empty where none is on the list. */
    static OptionalDouble loadKilograms(CabinetKey key, List<Tub> tubs) {
        double grams =
                tubs.stream()
                        .filter(tub -> tub.key().equals(key) && tub.to().isEmpty())
                        .mapToDouble(Tub::massGrams)
                        .sum();
        return grams > 0 ? OptionalDouble.of(grams / GRAMS_PER_KILOGRAM) : OptionalDouble.empty();
    }

    private static Optional<ProbeCurve> coldest(
            List<ProbeCurve> probes, Comparator<ProbeCurve> by) {
        return probes.stream().min(by);
    }

    private static boolean isAir(ProbeCurve probe) {
        return probe.unit() == ProbeCurve.Unit.CELSIUS
                && channel(probe.place()) == Channel.AIR
                && !Double.isNaN(mean(probe.curve()));
    }

    private static double mean(Curve curve) {
        double sum = 0;
        int count = 0;
        for (int i = 0; i < curve.size(); i++) {
            if (Double.isFinite(curve.value(i))) {
                sum += curve.value(i);
                count++;
            }
        }
        return sum / count;
    }

    private static void add(ThermalRecord.Builder builder, Channel channel, Curve curve) {
        for (int i = 0; i < curve.size(); i++) {
            builder.add(channel, curve.epochMillis(i), curve.value(i));
        }
    }

    private static void changed(
            ThermalRecord.Builder builder, CabinetCurves curves, long epochMillis) {
        if (epochMillis < curves.span().to().toEpochMilli()) {
            builder.loadChanged(epochMillis);
        }
    }
}
