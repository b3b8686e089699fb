package io.evenwarm.monitor.app;

import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.monitor.alarm.NewtonTimeLeft;
import io.evenwarm.monitor.history.CabinetCurves;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.Curve;
import io.evenwarm.monitor.history.HistoryQueries;
import io.evenwarm.monitor.history.ProbeCurve;
import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.monitor.history.Tub;
import io.evenwarm.monitor.outage.HumidityAround;
import io.evenwarm.monitor.outage.Outage;
import io.evenwarm.monitor.outage.OutageReview;
import io.evenwarm.monitor.outage.Recovery;
import io.evenwarm.monitor.outage.ShelfAir;
import io.evenwarm.monitor.outage.TubPlace;
import io.evenwarm.monitor.report.OutageAccount;
import io.evenwarm.monitor.store.StoreException;
import io.evenwarm.monitor.store.StoreOutside;
import io.evenwarm.monitor.thermal.EggTrack;
import io.evenwarm.monitor.thermal.Gap;
import io.evenwarm.monitor.thermal.ThermalFacts;
import io.evenwarm.monitor.thermal.ThermalFit;
import io.evenwarm.monitor.thermal.ThermalFitter;
import io.evenwarm.monitor.thermal.ThermalRecord;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/** What events of the store came to. */
record OutageHistory(StoreOutside store, NewtonTimeLeft.Assumptions assumed) {

    /** As much history as a fit takes in. */
    private static final Duration HISTORY = Duration.ofDays(14);

    /** As much of it as the state at the begin comes from. */
    private static final Duration STATE = Duration.ofDays(2);

    private static final Duration AFTER = Duration.ofHours(6);
    private static final Duration BEFORE = Duration.ofHours(2);
    private static final Duration DAY = Duration.ofDays(1);
    private static final double LEAST_ROOM_KELVIN = 4;

    /** What an outage came to. */
    OutageAccount review(Outage outage) throws StoreException {
        CabinetKey key = outage.key();
        HistoryQueries history = store.history();
        Instant begin = outage.begin().likely();
        Instant end = outage.end().likely();
        List<Tub> tubs = store.tubs(true).stream().filter(tub -> tub.key().equals(key)).toList();
        TimeSpan around = new TimeSpan(begin.minus(STATE), end.plus(AFTER));
        CabinetCurves curves = history.everyReading(key, around);
        List<TubPlace> places = there(tubs, curves, begin, end);
        OutageReview review =
                outage.isGap()
                        ? ofGap(outage, tubs, curves, places)
                        : OutageReview.ofReadings(
                                outage,
                                track(curves, tubs, fit(key, tubs, begin, end)),
                                shelves(curves, begin),
                                places);
        TimeSpan told = new TimeSpan(outage.begin().earliest(), end.plus(AFTER));
        return new OutageAccount(
                review,
                curves.limits(),
                assumed.coldLimitCelsius(),
                Recovery.of(curves, begin, end),
                HumidityAround.of(curves, begin, end),
                history.curves(key, shown(outage)),
                store.changesAbout(key, told),
                store.noticesAbout(key, told));
    }

    private OutageReview ofGap(
            Outage outage, List<Tub> tubs, CabinetCurves curves, List<TubPlace> places) {
        boolean isRoomRead = hasRoom(curves);
        Optional<ThermalFit> fit =
                OutageReview.isWithinReach(outage)
                        ? fit(outage.key(), tubs, outage.begin().likely(), outage.begin().likely())
                        : Optional.empty();
        return OutageReview.of(
                outage,
                record(curves, tubs),
                fit,
                isRoomRead ? 0 : assumedRoomKelvin(),
                isLoadChanged(tubs, outage),
                places);
    }

    /** The model by the days before a time; where they are too few, by those up to another one. */
    Optional<ThermalFit> fit(CabinetKey key, List<Tub> tubs, Instant before, Instant orUpTo) {
        Optional<ThermalFit> fit = fit(key, tubs, before);
        return fit.isPresent() || !orUpTo.isAfter(before) ? fit : fit(key, tubs, orUpTo);
    }

    private Optional<ThermalFit> fit(CabinetKey key, List<Tub> tubs, Instant until) {
        // Days before the first reading are no days that the model could be held against.
        Instant first =
                store.history()
                        .extent(key)
                        .map(TimeSpan::from)
                        .filter(from -> from.isAfter(until.minus(HISTORY)))
                        .orElse(until.minus(HISTORY));
        if (!first.isBefore(until)) {
            return Optional.empty();
        }
        CabinetCurves before = store.history().everyReading(key, new TimeSpan(first, until));
        if (before.setPointCelsius().size() == 0) {
            return Optional.empty();
        }
        return ThermalFitter.fit(
                record(before, tubs),
                new ThermalFacts(
                        ThermalHistory.loadKilograms(key, tubs),
                        OptionalDouble.empty(),
                        OptionalDouble.empty()));
    }

    /** The eggs as they are estimated from what was read. */
    EggTrack track(CabinetCurves curves, List<Tub> tubs, Optional<ThermalFit> fit) {
        return fit.map(its -> EggTrack.of(its, record(curves, tubs))).orElseGet(EggTrack::empty);
    }

    private static ShelfAir shelves(CabinetCurves curves, Instant until) {
        return ShelfAir.of(curves, new TimeSpan(until.minus(DAY), until));
    }

    /** The hours around it that a picture shows. */
    private static TimeSpan shown(Outage outage) {
        Duration length = Duration.between(outage.begin().likely(), outage.end().likely());
        Duration before = length.dividedBy(4);
        return new TimeSpan(
                outage.begin().likely().minus(before.compareTo(BEFORE) > 0 ? before : BEFORE),
                outage.end().likely().plus(AFTER));
    }

    private static List<TubPlace> there(
            List<Tub> tubs, CabinetCurves curves, Instant begin, Instant end) {
        ShelfAir air = shelves(curves, begin);
        return tubs.stream()
                .filter(
                        tub ->
                                tub.from().isBefore(end)
                                        && tub.to().map(begin::isBefore).orElse(true))
                .map(tub -> new TubPlace(tub, air.aboveMeanKelvin(tub.shelf())))
                .toList();
    }

    /** Even where the settings assume one room exactly, nobody knows it that well. */
    private double assumedRoomKelvin() {
        double half = Math.abs(assumed.warmRoomCelsius() - assumed.coldRoomCelsius()) / 2;
        return Math.max(LEAST_ROOM_KELVIN, Math.min(Gap.ROOM_KELVIN_MAX, half));
    }

    private ThermalRecord record(CabinetCurves curves, List<Tub> tubs) {
        return ThermalHistory.of(
                withRoom(curves, hasRoom(curves)),
                tubs,
                store.history().plannedWork(curves.key(), curves.span()));
    }

    private static boolean isLoadChanged(List<Tub> tubs, Outage outage) {
        return tubs.stream()
                .anyMatch(
                        tub ->
                                outage.holds(tub.from())
                                        || tub.to().map(outage::holds).orElse(false));
    }

    private static boolean hasRoom(CabinetCurves curves) {
        return curves.probes().stream()
                .anyMatch(probe -> probe.place().kind() == ProbePlace.Kind.AMBIENT);
    }

    /** Where no probe reads the room, one that reads what is assumed. */
    private CabinetCurves withRoom(CabinetCurves curves, boolean isRoomRead) {
        Curve records = curves.setPointCelsius();
        if (isRoomRead || records.size() == 0) {
            return curves;
        }
        double celsius = (assumed.warmRoomCelsius() + assumed.coldRoomCelsius()) / 2;
        long[] times = new long[records.size()];
        double[] values = new double[times.length];
        for (int i = 0; i < times.length; i++) {
            times[i] = records.epochMillis(i);
            values[i] = celsius;
        }
        List<ProbeCurve> probes = new ArrayList<>(curves.probes());
        probes.add(
                new ProbeCurve(
                        new ProbeName("assumed room"),
                        ProbePlace.AMBIENT,
                        ProbeCurve.Unit.CELSIUS,
                        Curve.of(times, values, times.length)));
        return new CabinetCurves(
                curves.key(),
                curves.span(),
                probes,
                curves.setPointCelsius(),
                curves.heaterOnFraction(),
                curves.limits());
    }
}
