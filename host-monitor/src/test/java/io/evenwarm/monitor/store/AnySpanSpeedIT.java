package io.evenwarm.monitor.store;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.SystemClock;
import io.evenwarm.monitor.history.CabinetCurves;
import io.evenwarm.monitor.history.Curve;
import io.evenwarm.monitor.history.TimeSpan;
import java.io.IOException;
import java.nio.file.Path;
import java.sql.SQLException;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.SplittableRandom;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Opens spans from minutes to all there is of large stores, and prints how long the data of a
 * cabinet's plot take, warm and cold, and how large a store is. {@code -Dstore.readings=1000000,…}
 * sets the sizes.
 */
@Tag("long")
final class AnySpanSpeedIT {

    private static final String SIZES = System.getProperty("store.readings", "1000000");
    private static final int SPANS_OF_EACH_LENGTH = 7;
    private static final long SEED = 5;

    private static final List<Duration> LENGTHS =
            List.of(
                    Duration.ofMinutes(10),
                    Duration.ofHours(5),
                    Duration.ofDays(1),
                    Duration.ofDays(7),
                    Duration.ofDays(60),
                    Duration.ofDays(365),
                    Duration.ofDays(730));

    private final MonotonicClock clock = SystemClock.monotonic();

    @Test
    void anySpanOfALargeStoreIsThereAtOnceWithItsExcursions(@TempDir Path folder)
            throws IOException, SQLException, InterruptedException {
        for (String size : SIZES.split(",", -1)) {
            int records = Math.toIntExact(Long.parseLong(size) / BigStore.readings(1));
            Path at = folder.resolve(size);
            long begin = clock.nanos();
            BigStore.make(at, records);
            double seconds = (clock.nanos() - begin) / 1e9;
            System.out.printf(
                    Locale.ROOT,
                    "store of %,d readings (24 probes, %.1f days): made in %.0f s, %.1f octets a"
                            + " reading, its share of record and tiers included%n",
                    BigStore.readings(records),
                    records * (BigStore.STEP_MILLIS / 86_400_000.0),
                    seconds,
                    (double) BigStore.octets(at) / BigStore.readings(records));
            if (size.equals("1000000")) {
                StoreReport report = new StoreFile(at).check();
                assertTrue(report.isSound(), report.words().toString());
            }
            measure(at, records);
        }
    }

    private void measure(Path folder, int records) throws IOException, InterruptedException {
        SplittableRandom random = new SplittableRandom(SEED);
        Duration all = Duration.ofMillis((long) records * BigStore.STEP_MILLIS);
        List<Double> warmAll = new ArrayList<>();
        for (Duration length : LENGTHS) {
            if (length.compareTo(all.multipliedBy(2)) > 0) {
                continue;
            }
            double[] cold = new double[SPANS_OF_EACH_LENGTH];
            double[] warm = new double[SPANS_OF_EACH_LENGTH];
            for (int i = 0; i < SPANS_OF_EACH_LENGTH; i++) {
                long room = Math.max(0, all.minus(length).toMillis());
                Instant from = BigStore.BEGIN.plusMillis(room == 0 ? 0 : random.nextLong(room));
                TimeSpan span = new TimeSpan(from, from.plus(length));
                forget(folder);
                // A store that was just opened: nothing is known of it.
                try (HistoryStore store = HistoryStore.open(folder)) {
                    cold[i] = millisToRead(store, span);
                    warm[i] = Math.min(millisToRead(store, span), millisToRead(store, span));
                }
                warmAll.add(warm[i]);
            }
            Arrays.sort(cold);
            Arrays.sort(warm);
            System.out.printf(
                    Locale.ROOT,
                    "  %6.1f h of 8 probes: median %.1f ms warm, %.1f ms cold (slowest %.1f,"
                            + " %.1f)%n",
                    length.toMinutes() / 60.0,
                    warm[SPANS_OF_EACH_LENGTH / 2],
                    cold[SPANS_OF_EACH_LENGTH / 2],
                    warm[SPANS_OF_EACH_LENGTH - 1],
                    cold[SPANS_OF_EACH_LENGTH - 1]);
        }
        warmAll.sort(null);
        System.out.printf(
                Locale.ROOT, "  all spans: median %.1f ms warm%n", warmAll.get(warmAll.size() / 2));
    }

    private double millisToRead(HistoryStore store, TimeSpan span) {
        long begin = clock.nanos();
        CabinetCurves curves = store.curves(BigStore.CABINETS.get(1), span);
        double millis = (clock.nanos() - begin) / 1e6;
        assertEquals(BigStore.PROBES, curves.probes().size());
        checkExcursions(curves.probes().get(3).curve(), span);
        return millis;
    }

    /** The generator's spikes of that probe: each one in the span is on the curve. */
    private static void checkExcursions(Curve curve, TimeSpan span) {
        int probe = BigStore.PROBES + 3;
        long first = span.from().toEpochMilli();
        long spikes = 0;
        for (int i = 0; i < curve.size(); i++) {
            spikes += curve.value(i) >= 40 ? 1 : 0;
        }
        long period = 200_003L;
        long expected = 0;
        long from = Math.floorDiv(first - BigStore.BEGIN.toEpochMilli(), BigStore.STEP_MILLIS);
        long to = from + span.length().toMillis() / BigStore.STEP_MILLIS;
        long last = curve.epochMillis(curve.size() - 1) - BigStore.BEGIN.toEpochMilli();
        long spike = Math.floorMod(1_234 - 977L * probe, period);
        for (long record = spike; record < to; record += period) {
            boolean isStored = record * BigStore.STEP_MILLIS <= last;
            expected += record > from && isStored ? 1 : 0;
        }
        assertTrue(spikes >= expected, spikes + " spikes of " + expected + " in " + span);
    }

    /** Asks the system to drop what it holds of the file in memory. */
    private static void forget(Path folder) throws IOException, InterruptedException {
        Process drop =
                new ProcessBuilder(
                                "dd",
                                "of=" + folder.resolve(HistoryStore.FILE_NAME),
                                "oflag=nocache",
                                "conv=notrunc,fdatasync",
                                "count=0")
                        .redirectErrorStream(true)
                        .redirectOutput(ProcessBuilder.Redirect.DISCARD)
                        .start();
        assertTrue(drop.waitFor(60, TimeUnit.SECONDS) && drop.exitValue() == 0, "dd failed");
    }
}
