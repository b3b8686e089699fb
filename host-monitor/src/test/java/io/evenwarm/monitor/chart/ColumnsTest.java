package io.evenwarm.monitor.chart;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.monitor.history.Curve;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

/**
 * Thinning to pixel columns against what the M4 aggregation promises: U. Jugel, Z. Jerzak, G.
 * Hackenbroich, V. Markl, "M4: A Visualization-Oriented Time Series Data Aggregation", PVLDB 7
 * (2014): first, last, lowest and highest of each column stay. (At most four points a column: from
 * memory of it.)
 */
final class ColumnsTest {

    private static final int WIDTH = 100;

    @Test
    void everyColumnKeepsItsFirstLastLowestAndHighestPoint() {
        for (long seed = 1; seed <= 20; seed++) {
            SplittableRandom random = new SplittableRandom(seed);
            int size = 200 + random.nextInt(5000);
            long stepMillis = 1000;
            double[] values = new double[size];
            long[] times = new long[size];
            for (int i = 0; i < size; i++) {
                times[i] = i * stepMillis;
                values[i] = Math.rint(16 * (31 + random.nextDouble())) / 16;
            }
            long end = size * stepMillis;
            Points thinned = Columns.thin(Trace.of(Curve.of(times, values, size)), 0, end, WIDTH);
            double millisPerPixel = end / (double) WIDTH;
            int at = 0;
            for (int column = 0; column < WIDTH; column++) {
                int first = (int) Math.ceil(column * millisPerPixel / stepMillis - 1e-9);
                int afterLast =
                        Math.min(
                                size,
                                (int) Math.ceil((column + 1) * millisPerPixel / stepMillis - 1e-9));
                String where = "seed " + seed + " column " + column;
                Summary raw = new Summary();
                for (int i = first; i < afterLast; i++) {
                    raw.add(values[i]);
                }
                Summary kept = new Summary();
                while (at < thinned.size() && thinned.time(at) < afterLast * stepMillis) {
                    kept.add(thinned.value(at));
                    at++;
                }
                assertEquals(raw.first, kept.first, where);
                assertEquals(raw.last, kept.last, where);
                assertEquals(raw.lowest, kept.lowest, where);
                assertEquals(raw.highest, kept.highest, where);
                assertTrue(kept.count <= 4, where + " kept " + kept.count);
            }
        }
    }

    private static final class Summary {
        private double first = Double.NaN;
        private double last = Double.NaN;
        private double lowest = Double.POSITIVE_INFINITY;
        private double highest = Double.NEGATIVE_INFINITY;
        private int count;

        void add(double value) {
            if (count == 0) {
                first = value;
            }
            last = value;
            lowest = Math.min(lowest, value);
            highest = Math.max(highest, value);
            count++;
        }
    }

    @Test
    void timesNeverRunBackwardsWhateverGapsThereAre() {
        for (long seed = 1; seed <= 50; seed++) {
            SplittableRandom random = new SplittableRandom(seed);
            int size = 3000;
            long[] times = new long[size];
            double[] values = new double[size];
            long time = 0;
            for (int i = 0; i < size; i++) {
                time += random.nextInt(40) == 0 ? 400_000 : 1000;
                times[i] = time;
                values[i] = random.nextInt(12) == 0 ? Double.NaN : 31 + random.nextDouble();
            }
            Points thinned = Columns.thin(Trace.of(Curve.of(times, values, size)), 0, time, WIDTH);
            for (int i = 1; i < thinned.size(); i++) {
                assertTrue(thinned.time(i) >= thinned.time(i - 1), "seed " + seed + " point " + i);
            }
        }
    }

    @Test
    void aTimeWithoutReadingsIsAGapAndAMissedReadingIsNot() {
        long[] times = {0, 5000, 10_000, 20_000, 25_000, 200_000, 205_000};
        double[] values = {31, 31, 31, 31, 31, 31, 31};
        Points thinned = Columns.thin(Trace.of(Curve.of(times, values, 7)), 0, 205_000, WIDTH);
        int gaps = 0;
        for (int i = 0; i < thinned.size(); i++) {
            if (Double.isNaN(thinned.value(i))) {
                gaps++;
                assertEquals(25_000, thinned.time(i));
            }
        }
        assertEquals(1, gaps);
    }

    @Test
    void aPointAloneBetweenTwoGapsBecomesADashThatCanBeSeen() {
        long[] times = {0, 1000, 2000, 3000, 4000};
        double[] values = {31, Double.NaN, 32, Double.NaN, 31};
        Points thinned = Columns.thin(Trace.of(Curve.of(times, values, 5)), 0, 100_000, WIDTH);
        int at = 0;
        while (thinned.value(at) != 32) {
            at++;
        }
        assertEquals(32, thinned.value(at + 1));
        assertTrue(thinned.time(at + 1) > thinned.time(at));
        assertTrue(Double.isNaN(thinned.value(at + 2)));
    }

    @Test
    void aDenseCurveHasTheMeanOfEveryColumnAndASparseOneHasNone() {
        int size = 5000;
        long[] times = new long[size];
        double[] values = new double[size];
        for (int i = 0; i < size; i++) {
            times[i] = i * 1000L;
            values[i] = 31 + i % 2;
        }
        Trace trace = Trace.of(Curve.of(times, values, size));
        Points means = Columns.of(trace, 0, size * 1000L, WIDTH).means().orElseThrow();
        assertEquals(WIDTH, means.size());
        for (int i = 0; i < means.size(); i++) {
            assertEquals(31.5, means.value(i), 1e-9);
        }
        assertTrue(Columns.of(trace, 0, 100_000, WIDTH).means().isEmpty());
    }

    @Test
    void theLineReachesBothEdgesOfThePicture() {
        long[] times = {0, 10_000, 20_000, 30_000};
        double[] values = {1, 2, 3, 4};
        Points thinned = Columns.thin(Trace.of(Curve.of(times, values, 4)), 12_000, 18_000, WIDTH);
        assertEquals(2, thinned.size());
        assertEquals(10_000, thinned.time(0));
        assertEquals(20_000, thinned.time(1));
    }

    @Test
    void theTailContinuesHistoryAndRepeatsNoneOfIt() {
        Curve stored = Curve.of(new long[] {0, 5000, 10_000}, new double[] {1, 2, 3}, 3);
        Curve tail =
                Curve.of(new long[] {8000, 9000, 10_000, 11_000}, new double[] {9, 9, 9, 4}, 4);
        Trace trace = Trace.of(stored, tail, 0, 10_000);
        assertEquals(4, trace.size());
        assertEquals(4, trace.value(3));
        assertEquals(11_000, trace.epochMillis(3));
        assertEquals(3, trace.valueAt(10_500));
        assertEquals(4, trace.valueAt(11_500));
        assertTrue(Double.isNaN(trace.valueAt(500_000)), "an old value must not look current");
        assertTrue(Double.isNaN(trace.valueAt(-1)));
    }
}
