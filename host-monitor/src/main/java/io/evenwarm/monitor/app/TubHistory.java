package io.evenwarm.monitor.app;

import io.evenwarm.message.Limits;
import io.evenwarm.monitor.alarm.NewtonTimeLeft;
import io.evenwarm.monitor.history.CabinetCurves;
import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.monitor.history.Tub;
import io.evenwarm.monitor.outage.EggBand;
import io.evenwarm.monitor.outage.Outage;
import io.evenwarm.monitor.outage.ShelfAir;
import io.evenwarm.monitor.outage.TubCourse;
import io.evenwarm.monitor.outage.TubExposure;
import io.evenwarm.monitor.report.TubAccount;
import io.evenwarm.monitor.store.StoreException;
import io.evenwarm.monitor.store.StoreOutside;
import io.evenwarm.monitor.thermal.EggTrack;
import io.evenwarm.monitor.thermal.Span;
import io.evenwarm.monitor.thermal.ThermalFit;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;

/** What tubs of the store went through since they went in. */
record TubHistory(StoreOutside store, NewtonTimeLeft.Assumptions assumed) {

    /** A tub that is put elsewhere is ended there and added here within this. */
    private static final Duration MOVED = Duration.ofDays(1);

    /** The estimate needs so much before what it is asked for. */
    private static final Duration BEFORE = Duration.ofDays(1);

    /** A longer stand is followed piece by piece, as history does not fit into memory at once. */
    private static final Duration PIECE = Duration.ofDays(14);

    private static final double STEP_HOURS = 300 / 3600.0;
    private static final double MILLIS_PER_HOUR = 3_600_000;

    /**
     * A tub's places, the first one first; empty where there is none of that name.
     *
     * @param all that ever stood anywhere
     */
    static List<Tub> stands(String name, List<Tub> all) {
        List<Tub> stands = new ArrayList<>();
        List<Tub> its =
                all.stream()
                        .filter(tub -> tub.name().equals(name))
                        .sorted(Comparator.comparing(Tub::from).reversed())
                        .toList();
        for (Tub tub : its) {
            boolean isMoved =
                    stands.isEmpty()
                            || tub.to()
                                    .map(to -> !to.plus(MOVED).isBefore(stands.get(0).from()))
                                    .orElse(false);
            if (!isMoved) {
                break;
            }
            stands.add(0, tub);
        }
        return stands;
    }

    /**
     * What it went through.
     *
     * @param stands of one tub, at least one
     */
    TubAccount of(List<Tub> stands) throws StoreException {
        TubCourse.Sum sum = new TubCourse.Sum();
        List<Outage> events = new ArrayList<>();
        Set<String> notKnown = new LinkedHashSet<>();
        Optional<Limits> limits = Optional.empty();
        Instant until = stands.get(0).from();
        boolean isFirst = true;
        for (Tub tub : stands) {
            Optional<TimeSpan> extent = store.history().extent(tub.key());
            Instant newest = extent.map(TimeSpan::to).orElse(tub.from());
            Instant end = tub.to().filter(to -> to.isBefore(newest)).orElse(newest);
            if (isFirst) {
                limits = limits(tub, end);
                addLimits(sum, limits);
                isFirst = false;
            }
            if (!end.isAfter(tub.from())) {
                notKnown.add("Nothing was read of its cabinet since it went in");
                continue;
            }
            until = end;
            new Stand(tub, end).add(sum, events, notKnown);
        }
        if (limits.isEmpty()) {
            notKnown.add("The cabinet's limits are not known");
        }
        return new TubAccount(stands, until, sum.done(), events, List.copyOf(notKnown));
    }

    private Optional<Limits> limits(Tub tub, Instant end) {
        return store.history()
                .curves(tub.key(), new TimeSpan(end.minus(BEFORE), end.plusMillis(1)))
                .limits();
    }

    private void addLimits(TubCourse.Sum sum, Optional<Limits> limits) {
        sum.limit("eggs-cold-limit", assumed.coldLimitCelsius(), true);
        if (limits.isPresent()) {
            Limits its = limits.get();
            sum.limit("too-cold", its.tooCold().celsius(), true);
            sum.limit("too-warm", its.tooWarm().celsius(), false);
            sum.limit("cut-off", its.cutOff().celsius(), false);
            sum.limit("ceiling", its.ceiling().celsius(), false);
        }
    }

    /** One place of a tub. */
    private final class Stand {

        private final Tub tub;
        private final Instant end;
        private final OutageHistory history = new OutageHistory(store, assumed);

        Stand(Tub tub, Instant end) {
            this.tub = tub;
            this.end = end;
        }

        void add(TubCourse.Sum sum, List<Outage> events, Set<String> notKnown)
                throws StoreException {
            List<Outage> there =
                    new OutageEvents(store).of(tub.key(), new TimeSpan(tub.from(), end));
            events.addAll(there);
            List<Tub> tubs =
                    store.tubs(true).stream().filter(t -> t.key().equals(tub.key())).toList();
            Optional<ThermalFit> fit = history.fit(tub.key(), tubs, tub.from(), end);
            if (fit.isEmpty()) {
                notKnown.add(
                        "The history is too short for a thermal model, which takes two days or"
                                + " more, so its eggs are not estimated");
                sum.addUnknown(hours(tub.from(), end));
                return;
            }
            double estimated = 0;
            for (Instant from = tub.from(); from.isBefore(end); from = from.plus(PIECE)) {
                Instant to = from.plus(PIECE).isBefore(end) ? from.plus(PIECE) : end;
                estimated += estimated(sum, fit, tubs, from, to);
            }
            double known = 0;
            for (Outage gap : there) {
                known += gap.isGap() ? reconstructed(sum, gap, notKnown) : 0;
            }
            double left = hours(tub.from(), end) - estimated - known;
            if (left > 2 * STEP_HOURS) {
                sum.addUnknown(left);
            }
        }

        private double estimated(
                TubCourse.Sum sum,
                Optional<ThermalFit> fit,
                List<Tub> tubs,
                Instant from,
                Instant to) {
            CabinetCurves curves =
                    store.history().everyReading(tub.key(), new TimeSpan(from.minus(BEFORE), to));
            EggTrack track = history.track(curves, tubs, fit);
            OptionalDouble above =
                    ShelfAir.of(curves, new TimeSpan(from, to)).aboveMeanKelvin(tub.shelf());
            double hours = 0;
            for (int i = 0; i < track.size(); i++) {
                if (track.isKnown(i)
                        && track.epochMillis(i) >= from.toEpochMilli()
                        && track.epochMillis(i) < to.toEpochMilli()) {
                    Span span = track.celsius(i);
                    double likely =
                            Math.max(
                                    span.low(),
                                    Math.min(span.high(), span.likely() + above.orElse(0)));
                    sum.add(new Span(span.low(), likely, span.high()), STEP_HOURS, false);
                    hours += STEP_HOURS;
                }
            }
            return hours;
        }

        /** Of the gap alone: before and after it the air was read. */
        private double reconstructed(TubCourse.Sum sum, Outage gap, Set<String> notKnown)
                throws StoreException {
            Optional<EggBand> eggs =
                    history.review(gap).review().tubs().stream()
                            .filter(its -> its.tub().equals(tub))
                            .findFirst()
                            .flatMap(TubExposure::eggs)
                            .filter(EggBand::isLikelyKnown)
                            .map(band -> band.between(gap.begin().likely(), gap.end().likely()));
            if (eggs.isEmpty()) {
                notKnown.add("What it had in " + gap.id() + " is not known: see its review");
                return 0;
            }
            double step = eggs.get().stepMillis() / MILLIS_PER_HOUR;
            for (int i = 0; i < eggs.get().size(); i++) {
                sum.add(eggs.get().celsius(i), step, true);
            }
            return step * eggs.get().size();
        }
    }

    private static double hours(Instant from, Instant to) {
        return Duration.between(from, to).toMillis() / MILLIS_PER_HOUR;
    }
}
