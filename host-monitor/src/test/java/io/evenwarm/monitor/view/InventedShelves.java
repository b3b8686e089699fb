package io.evenwarm.monitor.view;

import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.monitor.evenness.Estimate;
import io.evenwarm.monitor.evenness.ProbeEntry;
import io.evenwarm.monitor.evenness.ProbeRecord;
import io.evenwarm.monitor.evenness.SurveyWords;
import io.evenwarm.monitor.history.CabinetCurves;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.CabinetSummaries;
import io.evenwarm.monitor.history.Curve;
import io.evenwarm.monitor.history.HistoryQueries;
import io.evenwarm.monitor.history.LogEntry;
import io.evenwarm.monitor.history.ProbeCurve;
import io.evenwarm.monitor.history.ProbeSummaries;
import io.evenwarm.monitor.history.Summaries;
import io.evenwarm.monitor.history.Tier;
import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.monitor.history.Tub;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;

/**
 * The long record of an invented cabinet with shelves: uneven until its fan was exchanged a day
 * ago, and a fan that weakened over the weeks before.
 */
final class InventedShelves implements HistoryQueries {

    private static final String[] PLACES = {
        "top", "shelf 1 left", "shelf 1 right", "middle", "shelf 2 left", "shelf 2 right", "bottom"
    };
    private static final double[] BEFORE = {0.62, 0.3, 0.22, 0.0, -0.2, -0.12, -0.55};
    private static final double[] AFTER = {0.12, 0.05, 0.03, 0.0, -0.04, -0.02, -0.1};
    private static final long STEP_MILLIS = 60_000;
    private static final int WEAKENING_DAYS = 30;

    private final HistoryQueries others;
    private final Instant now;

    /**
     * @param others answers what is not asked here
     */
    InventedShelves(HistoryQueries others, Instant now) {
        this.others = others;
        this.now = now;
    }

    Instant exchanged() {
        return now.minus(Duration.ofDays(1));
    }

    @Override
    public List<CabinetKey> cabinets() {
        return others.cabinets();
    }

    @Override
    public Optional<TimeSpan> extent(CabinetKey key) {
        return Optional.of(new TimeSpan(now.minus(Duration.ofDays(75)), now));
    }

    @Override
    public CabinetCurves curves(CabinetKey key, TimeSpan span) {
        return others.curves(key, span);
    }

    @Override
    public CabinetCurves everyReading(CabinetKey key, TimeSpan span) {
        int size = (int) (span.length().toMillis() / STEP_MILLIS);
        Random random = new Random(5);
        List<ProbeCurve> probes = new ArrayList<>();
        long[] times = new long[size];
        double[] setPoint = new double[size];
        double[] heater = new double[size];
        double[] common = new double[size];
        for (int i = 0; i < size; i++) {
            times[i] = span.from().toEpochMilli() + i * STEP_MILLIS;
            setPoint[i] = 31.5;
            heater[i] = 0.36;
            common[i] = (i == 0 ? 0 : 0.95 * common[i - 1]) + 0.01 * random.nextGaussian();
        }
        for (int p = 0; p < PLACES.length; p++) {
            double[] values = new double[size];
            for (int i = 0; i < size; i++) {
                boolean isBefore = times[i] < exchanged().toEpochMilli();
                values[i] =
                        31.5
                                + (isBefore ? BEFORE : AFTER)[p]
                                + common[i]
                                + 0.03 * random.nextGaussian();
            }
            probes.add(
                    new ProbeCurve(
                            new ProbeName(PLACES[p]),
                            ProbePlace.of(PLACES[p]),
                            ProbeCurve.Unit.CELSIUS,
                            Curve.of(times, values, size)));
        }
        return new CabinetCurves(
                key,
                span,
                probes,
                Curve.of(times, setPoint, size),
                Curve.of(times, heater, size),
                Optional.empty());
    }

    private double duty(long epochMillis) {
        return 0.36 + 0.04 * Math.sin(epochMillis / 14e6);
    }

    @Override
    public List<ProbeSummaries> summaries(CabinetKey key, TimeSpan span, Tier tier) {
        List<ProbeSummaries> found = new ArrayList<>();
        for (String place : List.of("top", "middle", "bottom")) {
            double up = place.equals("top") ? 0.5 : place.equals("bottom") ? -0.5 : 0;
            Summaries.Builder builder = new Summaries.Builder(tier.stepMillis());
            for (long at = tier.beginMillis(span.from().toEpochMilli());
                    at < span.to().toEpochMilli();
                    at += tier.stepMillis()) {
                double daysAgo = (now.toEpochMilli() - at) / 86_400_000.0;
                double flow = 1 - 0.3 * Math.max(0, WEAKENING_DAYS - daysAgo) / WEAKENING_DAYS;
                double noise = 0.02 * new Random(at + place.hashCode()).nextGaussian();
                double value = 31.5 + up * (0.1 + 1.4 * duty(at) / flow) + noise;
                builder.add(at, value, value, value, 120, 0);
            }
            found.add(
                    new ProbeSummaries(
                            new ProbeName(place),
                            ProbePlace.of(place),
                            ProbeCurve.Unit.CELSIUS,
                            builder.build()));
        }
        return found;
    }

    @Override
    public CabinetSummaries cabinetSummaries(CabinetKey key, TimeSpan span, Tier tier) {
        Summaries.Builder setPoint = new Summaries.Builder(tier.stepMillis());
        Summaries.Builder heater = new Summaries.Builder(tier.stepMillis());
        for (long at = tier.beginMillis(span.from().toEpochMilli());
                at < span.to().toEpochMilli();
                at += tier.stepMillis()) {
            setPoint.add(at, 31.5, 31.5, 31.5, 120, 0);
            heater.add(at, 0, 1, duty(at), 120, 0);
        }
        return new CabinetSummaries(setPoint.build(), heater.build());
    }

    @Override
    public List<Instant> plannedWork(CabinetKey key, TimeSpan span) {
        return List.of();
    }

    @Override
    public List<LogEntry> log(Optional<CabinetKey> key, TimeSpan span, int limit) {
        return others.log(key, span, limit);
    }

    /** What was found of its probes: each compared a month ago. */
    static WindowEvenness compared(CabinetKey key, Instant at) {
        List<ProbeEntry> entries = new ArrayList<>();
        for (String place : PLACES) {
            entries.add(
                    new ProbeEntry(
                            key,
                            new ProbeName(place),
                            at,
                            ProbeEntry.Kind.SIDE_BY_SIDE,
                            "invented Pt100",
                            Optional.of(new Estimate(0.0, 0.025, 1000))));
        }
        ProbeRecord record = ProbeRecord.EMPTY.with(entries);
        return new WindowEvenness() {
            @Override
            public ProbeRecord probes() {
                return record;
            }

            @Override
            public Optional<Instant> flowBegin(CabinetKey of) {
                return Optional.empty();
            }

            @Override
            public List<Tub> tubs() {
                return List.of();
            }

            @Override
            public SurveyWords surveyWords() {
                return SurveyWords.NONE;
            }
        };
    }
}
