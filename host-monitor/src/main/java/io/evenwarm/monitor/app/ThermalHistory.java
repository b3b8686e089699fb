package io.evenwarm.monitor.app;

import io.evenwarm.message.ProbePlace;
import io.evenwarm.monitor.history.CabinetCurves;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.Curve;
import io.evenwarm.monitor.history.ProbeCurve;
import io.evenwarm.monitor.history.Tub;
import io.evenwarm.monitor.thermal.ThermalRecord;
import io.evenwarm.monitor.thermal.ThermalRecord.Channel;
import java.time.Instant;
import java.util.List;
import java.util.OptionalDouble;
import java.util.stream.Stream;

/** A cabinet's stored history as the thermal model takes it. */
final class ThermalHistory {

    private static final double GRAMS_PER_KILOGRAM = 1000;

    private ThermalHistory() {}

    /**
     * @param tubs all that ever stood anywhere: when they came and went shows when the load changed
     * @param work when planned work began: tubs may have been exchanged then, whatever the list
     *     says
     */
    static ThermalRecord of(CabinetCurves curves, List<Tub> tubs, List<Instant> work) {
        ThermalRecord.Builder builder =
                new ThermalRecord.Builder(curves.span().from().toEpochMilli());
        List<ProbeCurve> thermometers =
                curves.probes().stream()
                        .filter(probe -> probe.unit() == ProbeCurve.Unit.CELSIUS)
                        .toList();
        for (ProbeCurve probe : thermometers) {
            add(builder, channel(probe.place()), probe.curve());
        }
        AirPlaces<ProbeCurve> air =
                AirPlaces.of(
                        thermometers,
                        ProbeCurve::place,
                        probe -> AirPlaces.mean(probe.curve().size(), probe.curve()::value));
        air.coldest().ifPresent(probe -> add(builder, Channel.COLDEST_AIR, probe.curve()));
        air.warmest().ifPresent(probe -> add(builder, Channel.WARMEST_AIR, probe.curve()));
        add(builder, Channel.DUTY, curves.heaterOnFraction());
        addLoadChanges(builder, curves.key(), tubs, work, curves.span().to());
        return builder.build();
    }

    /** Tells a record when tubs came, went, or may have been exchanged, before its end. */
    static void addLoadChanges(
            ThermalRecord.Builder builder,
            CabinetKey key,
            List<Tub> tubs,
            List<Instant> work,
            Instant end) {
        Stream.concat(
                        tubs.stream()
                                .filter(tub -> tub.key().equals(key))
                                .flatMap(
                                        tub ->
                                                Stream.concat(
                                                        Stream.of(tub.from()), tub.to().stream())),
                        work.stream())
                .filter(at -> at.isBefore(end))
                .forEach(at -> builder.loadChanged(at.toEpochMilli()));
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

    private static void add(ThermalRecord.Builder builder, Channel channel, Curve curve) {
        for (int i = 0; i < curve.size(); i++) {
            builder.add(channel, curve.epochMillis(i), curve.value(i));
        }
    }
}
