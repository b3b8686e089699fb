package io.evenwarm.monitor.app;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.message.AgentName;
import io.evenwarm.message.BootId;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.GuardState;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.Limits;
import io.evenwarm.message.Moment;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.monitor.history.CabinetCurves;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.Curve;
import io.evenwarm.monitor.history.ProbeCurve;
import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.monitor.store.HistoryStore;
import io.evenwarm.monitor.thermal.Outlook;
import io.evenwarm.monitor.thermal.Scenario;
import io.evenwarm.monitor.thermal.ThermalFacts;
import io.evenwarm.monitor.thermal.ThermalFit;
import io.evenwarm.monitor.thermal.ThermalFitter;
import io.evenwarm.monitor.thermal.ThermalRecord;
import io.evenwarm.quantity.Duty;
import io.evenwarm.quantity.Temperature;
import java.io.IOException;
import java.lang.management.ManagementFactory;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import java.util.UUID;
import org.apache.commons.math3.stat.regression.OLSMultipleLinearRegression;

/**
 * Times the thermal model over a store with days of an invented cabinet: a fit, what it takes to
 * follow cabinets live, and what-if. Beside each stands something bare on the same rows: reading
 * them and a plain regression by Commons Math; reading every value of the same snapshots; a plain
 * exponential over the same hours.
 */
final class ThermalBenchmark {

    static final int DAYS = 30;
    static final int CABINETS = 20;
    static final double FIT_SECONDS_MAX = 5;
    static final double SHARE_MAX = 0.01;
    static final double WHAT_IF_SECONDS_MAX = 0.2;

    private static final int EVERY_SECONDS = 5;
    private static final int DAY_SECONDS = 86_400;
    private static final int RECORDS_AT_ONCE = 4096;
    private static final int RECENT_MINUTES = 2 * 1440;
    private static final int REGRESSION_STEP_MILLIS = 300_000;
    private static final int REGRESSORS = 4;

    /** A live model is looked at so often (see {@link EggWatch}). */
    private static final int LOOK_SECONDS = 300;

    private static final double COLD_LIMIT_CELSIUS = 24;
    private static final double SET_POINT_CELSIUS = 31.5;
    private static final long SEED = 80_050;
    private static final AgentName AGENT = new AgentName("bench");
    private static final CabinetKey KEY = new CabinetKey(AGENT, new CabinetName("cabinet 0"));

    private final MonotonicClock clock;
    private final int days;
    private final int runs;
    private final Instant end;

    /** What the bare passes came to, so that nothing of them is left out. */
    private double bareSum;

    private ThermalBenchmark(MonotonicClock clock, int days, int runs) {
        this.clock = clock;
        this.days = days;
        this.runs = runs;
        this.end = live(0).moment().wall();
    }

    /**
     * Medians.
     *
     * @param readings that were fitted to, of one probe
     * @param firstFitSeconds the first fit, in code that was not compiled yet
     * @param fitSeconds reading all of them from the store, and the fit
     * @param bareFitSeconds reading them, and a plain regression over their five-minute means
     * @param shareOfACore what following {@value ThermalBenchmark#CABINETS} cabinets takes: a
     *     snapshot a second, a look each five minutes, a fit a day of the last 14 days
     * @param bareShareOfACore reading every value in those snapshots
     * @param whatIfSeconds an answer of a model that is there
     * @param bareWhatIfSeconds an exponential over the same hours, minute by minute
     */
    record Result(
            int readings,
            double firstFitSeconds,
            double fitSeconds,
            double bareFitSeconds,
            double shareOfACore,
            double bareShareOfACore,
            double whatIfSeconds,
            double bareWhatIfSeconds) {

        boolean isWithinBars() {
            return firstFitSeconds < FIT_SECONDS_MAX
                    && fitSeconds < FIT_SECONDS_MAX
                    && shareOfACore < SHARE_MAX
                    && whatIfSeconds < WHAT_IF_SECONDS_MAX;
        }

        List<String> lines() {
            return List.of(
                    String.format(
                            Locale.ROOT,
                            "fit to %,d readings of each of 3 probes, with reading them from the store:"
                                    + " first %.2f s, then %.2f s (allowed %.0f s); reading and a plain"
                                    + " regression %.2f s",
                            readings,
                            firstFitSeconds,
                            fitSeconds,
                            FIT_SECONDS_MAX,
                            bareFitSeconds),
                    String.format(
                            Locale.ROOT,
                            "following %d cabinets live: %.3f %% of a core (allowed %.0f %%); reading"
                                    + " every value %.5f %%",
                            CABINETS,
                            100 * shareOfACore,
                            100 * SHARE_MAX,
                            100 * bareShareOfACore),
                    String.format(
                            Locale.ROOT,
                            "what-if of a model that is there: %.1f ms (allowed %.0f ms); a plain"
                                    + " exponential %.4f ms",
                            1000 * whatIfSeconds,
                            1000 * WHAT_IF_SECONDS_MAX,
                            1000 * bareWhatIfSeconds));
        }
    }

    /**
     * Takes half a minute or more on the calling thread.
     *
     * @param folder for a store, which is left there
     */
    static Result run(MonotonicClock clock, Path folder) throws IOException {
        return run(clock, folder, DAYS, 5);
    }

    /** With fewer days or runs, for a figure that is less sure. */
    static Result run(MonotonicClock clock, Path folder, int days, int runs) throws IOException {
        return new ThermalBenchmark(clock, days, runs).measure(folder);
    }

    private Result measure(Path folder) throws IOException {
        try (HistoryStore store = HistoryStore.open(folder)) {
            fill(store);
            TimeSpan span = new TimeSpan(end.minus(Duration.ofDays(days)), end);
            double[] fits = new double[runs];
            double[] bareFits = new double[runs];
            int readings = 0;
            for (int run = 0; run < runs; run++) {
                long begin = clock.nanos();
                CabinetCurves curves = store.everyReading(KEY, span);
                fitted(ThermalHistory.of(curves, List.of(), List.of()));
                long middle = clock.nanos();
                CabinetCurves again = store.everyReading(KEY, span);
                bareSum += regression(again);
                bareFits[run] = seconds(middle, clock.nanos());
                fits[run] = seconds(begin, middle);
                readings = curves.heaterOnFraction().size();
            }
            double first = fits[0];
            double[] following = following(store);
            double[] whatIf =
                    whatIf(ThermalHistory.of(store.everyReading(KEY, span), List.of(), List.of()));
            if (Double.isNaN(bareSum)) {
                throw new IllegalStateException("the bare passes read nothing");
            }
            return new Result(
                    readings,
                    first,
                    median(fits),
                    median(bareFits),
                    following[0],
                    following[1],
                    whatIf[0],
                    whatIf[1]);
        }
    }

    private static ThermalFit fitted(ThermalRecord record) {
        return ThermalFitter.fit(record, ThermalFacts.NONE)
                .orElseThrow(() -> new IllegalStateException("the invented cabinet has no model"));
    }

    /** Shares of a core: of the models, and of the bare pass. */
    private double[] following(HistoryStore store) {
        double[] shares = new double[runs];
        double[] bare = new double[runs];
        for (int run = 0; run < runs; run++) {
            List<CabinetSnapshot> snapshots = new ArrayList<>();
            for (int second = 0; second < LOOK_SECONDS; second++) {
                snapshots.add(live(second));
            }
            EggModel model = new EggModel(KEY);
            long begin = ownNanos();
            model.fit(store, List.of(), end);
            double daily = seconds(begin, ownNanos());
            // The first look takes in all days, those after it the last two.
            look(model, snapshots.get(0));
            begin = ownNanos();
            snapshots.forEach(model::add);
            look(model, snapshots.get(snapshots.size() - 1));
            double each = seconds(begin, ownNanos());
            shares[run] = CABINETS * (each / LOOK_SECONDS + daily / DAY_SECONDS);
            begin = ownNanos();
            for (CabinetSnapshot snapshot : snapshots) {
                bareSum += AlarmBenchmark.everyValue(snapshot);
            }
            bare[run] = CABINETS * seconds(begin, ownNanos()) / LOOK_SECONDS;
        }
        return new double[] {median(shares), median(bare)};
    }

    /** What this thread itself has worked: whatever else the machine does takes no share of it. */
    private static long ownNanos() {
        return ManagementFactory.getThreadMXBean().getCurrentThreadCpuTime();
    }

    private static void look(EggModel model, CabinetSnapshot snapshot) {
        if (model.track().size() == 0 || model.times(snapshot, COLD_LIMIT_CELSIUS).isEmpty()) {
            throw new IllegalStateException("no model: " + model.why());
        }
    }

    /** Seconds: of an answer, and of the bare exponential. */
    private double[] whatIf(ThermalRecord record) {
        ThermalFit fit = fitted(record);
        double[] answers = new double[runs];
        double[] bare = new double[runs];
        for (int run = 0; run < runs; run++) {
            long begin = clock.nanos();
            Outlook.Course course =
                    new Outlook(fit, record.last(RECENT_MINUTES)).of(Scenario.mainsOff());
            double answer =
                    course.coldestCelsius(6 * 3600).likely()
                            + course.secondsUntilColdAt(COLD_LIMIT_CELSIUS).low();
            long middle = clock.nanos();
            double celsius = SET_POINT_CELSIUS;
            for (int minute = 0; minute < Outlook.HOURS * 60; minute++) {
                celsius = 21 + (celsius - 21) * Math.exp(-60.0 / 20_000);
                bareSum += celsius;
            }
            bare[run] = seconds(middle, clock.nanos());
            answers[run] = seconds(begin, middle);
            if (!Double.isFinite(answer)) {
                throw new IllegalStateException("what-if has no answer");
            }
        }
        return new double[] {median(answers), median(bare)};
    }

    /**
     * What a plain regression makes of the next mean of the air from the last two, room, heater.
     */
    private double regression(CabinetCurves curves) {
        List<double[]> columns = new ArrayList<>();
        for (ProbeCurve probe : curves.probes()) {
            columns.add(means(probe.curve()));
        }
        columns.add(means(curves.heaterOnFraction()));
        int rows = columns.stream().mapToInt(column -> column.length).min().orElse(0) - 2;
        double[] next = new double[rows];
        double[][] before = new double[rows][REGRESSORS];
        for (int row = 0; row < rows; row++) {
            next[row] = columns.get(0)[row + 2];
            before[row][0] = columns.get(0)[row];
            for (int column = 0; column < columns.size() && column + 1 < REGRESSORS; column++) {
                before[row][column + 1] = columns.get(column)[row + 1];
            }
        }
        OLSMultipleLinearRegression regression = new OLSMultipleLinearRegression();
        regression.newSampleData(next, before);
        return regression.estimateRegressionParameters()[1];
    }

    private double[] means(Curve curve) {
        int steps = (int) (Duration.ofDays(days).toMillis() / REGRESSION_STEP_MILLIS);
        double[] sums = new double[steps];
        int[] counts = new int[steps];
        long begin = end.minus(Duration.ofDays(days)).toEpochMilli();
        for (int i = 0; i < curve.size(); i++) {
            int step = (int) ((curve.epochMillis(i) - begin) / REGRESSION_STEP_MILLIS);
            if (step >= 0 && step < steps && Double.isFinite(curve.value(i))) {
                sums[step] += curve.value(i);
                counts[step]++;
            }
        }
        for (int step = 0; step < steps; step++) {
            sums[step] /= Math.max(1, counts[step]);
        }
        return sums;
    }

    /** Of the cabinet after its stored days; second 0 is their end. */
    private static CabinetSnapshot live(int second) {
        return AlarmBenchmark.snapshot(LOOK_SECONDS + second, 0, new Random(SEED + second));
    }

    /** An invented cabinet: air with its walls, and eggs, by explicit steps; a room with days. */
    private void fill(HistoryStore store) throws IOException {
        Random random = new Random(SEED);
        List<JournalRecord> records = new ArrayList<>();
        double air = SET_POINT_CELSIUS;
        double eggs = SET_POINT_CELSIUS;
        double integral = 0.2;
        int count = days * DAY_SECONDS / EVERY_SECONDS;
        Instant begin = end.minus(Duration.ofDays(days));
        for (int i = 0; i < count; i++) {
            double second = (double) i * EVERY_SECONDS;
            double room = 20 + 2 * Math.sin(2 * Math.PI * second / DAY_SECONDS);
            double wanted = 0.5 * (SET_POINT_CELSIUS - air) + integral;
            double duty = Math.max(0, Math.min(1, wanted));
            integral += duty == wanted ? 2e-4 * (SET_POINT_CELSIUS - air) : 0;
            double toEggs = (air - eggs) / 5400 * 60_000;
            air += (200 * duty - 4 * (air - room) - toEggs) / 20_000 * EVERY_SECONDS;
            eggs += toEggs / 60_000 * EVERY_SECONDS;
            records.add(
                    record(
                            i,
                            begin.plusMillis(Math.round(1000 * second)),
                            air,
                            room,
                            duty,
                            random));
            if (records.size() == RECORDS_AT_ONCE) {
                store.append(AGENT, "bench", records);
                records.clear();
            }
        }
        store.append(AGENT, "bench", records);
    }

    private static JournalRecord record(
            int index, Instant at, double air, double room, double duty, Random random) {
        long nanos = (long) index * EVERY_SECONDS * 1_000_000_000L;
        Temperature setPoint = Temperature.ofCelsius(SET_POINT_CELSIUS);
        double noise = 0.03 * random.nextGaussian();
        return new JournalRecord.Readings(
                index + 1L,
                new Moment(new BootId(new UUID(1, 2)), nanos, at, true),
                KEY.cabinet(),
                List.of(
                        AlarmBenchmark.probe("top", ProbePlace.TOP, air + 0.3 + noise, nanos),
                        AlarmBenchmark.probe("bottom", ProbePlace.BOTTOM, air - 0.3 - noise, nanos),
                        AlarmBenchmark.probe("room", ProbePlace.AMBIENT, room + noise, nanos)),
                setPoint,
                new Limits(
                        Temperature.ofCelsius(30.5),
                        Temperature.ofCelsius(32.5),
                        Temperature.ofCelsius(33.5),
                        Temperature.ofCelsius(34.5)),
                new Duty(duty),
                duty,
                GuardState.ALLOWING);
    }

    private static double seconds(long fromNanos, long toNanos) {
        return (toNanos - fromNanos) / 1e9;
    }

    private static double median(double[] values) {
        double[] sorted = values.clone();
        Arrays.sort(sorted);
        return sorted[sorted.length / 2];
    }
}
