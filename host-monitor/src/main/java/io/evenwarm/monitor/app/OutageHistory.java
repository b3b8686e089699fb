package io.evenwarm.monitor.app;

import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.monitor.alarm.NewtonTimeLeft;
import io.evenwarm.monitor.history.CabinetCurves;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.Curve;
import io.evenwarm.monitor.history.HistoryQueries;
import io.evenwarm.monitor.history.ProbeCurve;
import io.evenwarm.monitor.history.ProbeSummaries;
import io.evenwarm.monitor.history.Tier;
import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.monitor.history.Tub;
import io.evenwarm.monitor.outage.HumidityAround;
import io.evenwarm.monitor.outage.Outage;
import io.evenwarm.monitor.outage.OutageFinder;
import io.evenwarm.monitor.outage.OutageReview;
import io.evenwarm.monitor.outage.Recovery;
import io.evenwarm.monitor.outage.ShelfAir;
import io.evenwarm.monitor.outage.TubPlace;
import io.evenwarm.monitor.outage.Unseen;
import io.evenwarm.monitor.report.OutageAccount;
import io.evenwarm.monitor.store.StoreException;
import io.evenwarm.monitor.store.StoreOutside;
import io.evenwarm.monitor.thermal.Gap;
import io.evenwarm.monitor.thermal.ThermalFacts;
import io.evenwarm.monitor.thermal.ThermalFit;
import io.evenwarm.monitor.thermal.ThermalFitter;
import io.evenwarm.monitor.thermal.ThermalRecord;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeSet;

/** Outages as the store has them. */
record OutageHistory(StoreOutside store, NewtonTimeLeft.Assumptions assumed) {

    /** As much history as a fit takes in. */
    private static final Duration HISTORY = Duration.ofDays(14);

    /** As much of it as the state at the begin comes from. */
    private static final Duration STATE = Duration.ofDays(2);

    private static final Duration AFTER = Duration.ofHours(6);
    private static final Duration BEFORE = Duration.ofHours(2);
    private static final Duration DAY = Duration.ofDays(1);
    private static final long LEAST_GAP_MILLIS = 120_000;
    private static final int INTERVALS = 3;
    private static final double LEAST_ROOM_KELVIN = 4;
    private static final int LOG_ENTRIES_MAX = 10_000;

    /** Those that touch a span, the oldest first. */
    List<Outage> of(CabinetKey key, TimeSpan span) {
        HistoryQueries history = store.history();
        return OutageFinder.of(
                key,
                unseen(history, key, span),
                history.log(Optional.of(key), span, LOG_ENTRIES_MAX));
    }

    private static List<Unseen> unseen(HistoryQueries history, CabinetKey key, TimeSpan span) {
        TreeSet<Long> read = new TreeSet<>();
        for (ProbeSummaries probe : history.summaries(key, span, Tier.MINUTE)) {
            if (probe.place().kind() != ProbePlace.Kind.AMBIENT) {
                for (int i = 0; i < probe.summaries().size(); i++) {
                    if (probe.summaries().count(i) > 0) {
                        read.add(probe.summaries().beginMillis(i));
                    }
                }
            }
        }
        long[] minutes = read.stream().mapToLong(Long::longValue).toArray();
        long least = Math.max(LEAST_GAP_MILLIS, INTERVALS * usual(minutes));
        List<Unseen> found = new ArrayList<>();
        for (int i = 0; i + 1 < minutes.length; i++) {
            if (minutes[i + 1] - minutes[i] > least) {
                long[] before = times(history, key, minutes[i]);
                long[] after = times(history, key, minutes[i + 1]);
                if (before.length > 0 && after.length > 0) {
                    found.add(new Unseen(before[before.length - 1], after[0], usual(before)));
                }
            }
        }
        return found;
    }

    /** The usual step between times; a minute where there are too few to tell. */
    private static long usual(long[] times) {
        long[] steps = new long[Math.max(0, times.length - 1)];
        for (int i = 0; i < steps.length; i++) {
            steps[i] = times[i + 1] - times[i];
        }
        Arrays.sort(steps);
        return steps.length == 0 ? Tier.MINUTE.stepMillis() : steps[steps.length / 2];
    }

    /** When anything in the cabinet was read in a minute. */
    private static long[] times(HistoryQueries history, CabinetKey key, long minuteMillis) {
        Instant begin = Instant.ofEpochMilli(minuteMillis);
        TreeSet<Long> times = new TreeSet<>();
        for (ProbeCurve probe :
                history.everyReading(key, new TimeSpan(begin, begin.plusSeconds(60))).probes()) {
            for (int i = 0; i < probe.curve().size(); i++) {
                if (probe.place().kind() != ProbePlace.Kind.AMBIENT
                        && Double.isFinite(probe.curve().value(i))) {
                    times.add(probe.curve().epochMillis(i));
                }
            }
        }
        return times.stream().mapToLong(Long::longValue).toArray();
    }

    /** What an outage came to. */
    OutageAccount review(Outage outage) throws StoreException {
        CabinetKey key = outage.key();
        HistoryQueries history = store.history();
        Instant begin = outage.begin().likely();
        Instant end = outage.end().likely();
        List<Tub> tubs = store.tubs(true).stream().filter(tub -> tub.key().equals(key)).toList();
        CabinetCurves before = history.everyReading(key, new TimeSpan(begin.minus(HISTORY), begin));
        TimeSpan around = new TimeSpan(begin.minus(STATE), end.plus(AFTER));
        CabinetCurves curves = history.everyReading(key, around);
        boolean isRoomRead = hasRoom(curves);
        Optional<ThermalFit> fit = Optional.empty();
        if (OutageReview.isWithinReach(outage) && before.setPointCelsius().size() > 0) {
            fit =
                    ThermalFitter.fit(
                            record(withRoom(before, isRoomRead), tubs),
                            new ThermalFacts(
                                    ThermalHistory.loadKilograms(key, tubs),
                                    OptionalDouble.empty(),
                                    OptionalDouble.empty()));
        }
        OutageReview review =
                OutageReview.of(
                        outage,
                        record(withRoom(curves, isRoomRead), tubs),
                        fit,
                        isRoomRead ? 0 : assumedRoomKelvin(),
                        isLoadChanged(tubs, outage),
                        there(tubs, curves, begin, end));
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
        ShelfAir air = ShelfAir.of(curves, new TimeSpan(begin.minus(DAY), begin));
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

    private static ThermalRecord record(CabinetCurves curves, List<Tub> tubs) {
        // Of times before the span the record has no cell, and no change of load.
        return ThermalHistory.of(curves, tubs);
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
