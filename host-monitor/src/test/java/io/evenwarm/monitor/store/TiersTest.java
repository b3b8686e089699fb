package io.evenwarm.monitor.store;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.Reading;
import io.evenwarm.monitor.Journal;
import io.evenwarm.monitor.history.CabinetCurves;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.Curve;
import io.evenwarm.monitor.history.HistoryQueries;
import io.evenwarm.monitor.history.ProbeCurve;
import io.evenwarm.monitor.history.ProbeSummaries;
import io.evenwarm.monitor.history.Summaries;
import io.evenwarm.monitor.history.Tier;
import io.evenwarm.monitor.history.TimeSpan;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.TreeMap;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Tiers are at any time what a summing-up of all stored readings gives, however they came. */
class TiersTest {

    private static final TimeSpan ALL =
            new TimeSpan(Instant.parse("1990-01-01T00:00:00Z"), Journal.at(1e9));
    private static final CabinetName SOUTH = new CabinetName("south");

    private final HistoryStore store;

    TiersTest(@TempDir Path folder) throws StoreException {
        store = open(folder);
    }

    HistoryStore open(Path folder) throws StoreException {
        return HistoryStore.open(folder);
    }

    @AfterEach
    void close() {
        store.close();
    }

    /** One agent's journal, written in small steps: boots, wrong clocks, holes, bad readings. */
    private static final class Story {

        private final SplittableRandom random;
        private final AgentName agent;
        private final Journal journal = new Journal();
        private double second;
        private int boots = 1;

        Story(AgentName agent, SplittableRandom random) {
            this.agent = agent;
            this.random = random;
            second = random.nextInt(2000);
        }

        List<JournalRecord> next() {
            int chance = random.nextInt(12);
            if (chance == 0) {
                second += random.nextInt(20_000);
            } else if (chance == 1) {
                second += 60;
                journal.boot(++boots, second);
                if (random.nextBoolean()) {
                    journal.clockWrongBy(random.nextInt(-90_000, 90_000));
                }
            } else if (chance == 2) {
                journal.clockSet();
            }
            int records = 1 + random.nextInt(80);
            for (int i = 0; i < records; i++) {
                second += 5 + random.nextInt(2);
                double celsius = random.nextInt(25 * 16, 36 * 16) / 16.0 + random.nextInt(3) * 1e-7;
                journal.readings(
                        second,
                        random.nextInt(4) == 0 ? SOUTH : Journal.NORTH,
                        random.nextInt(101) / 100.0,
                        random.nextInt(10) == 0
                                ? Journal.bad("top", ProbePlace.TOP, Reading.Doubt.CHECKSUM)
                                : Journal.good("top", ProbePlace.TOP, celsius),
                        Journal.good("low", ProbePlace.BOTTOM, 31 - celsius / 100));
            }
            return journal.take();
        }
    }

    @Test
    void tiersEqualARecomputationFromTheReadingsWhateverTheOrderOfArrival() throws StoreException {
        for (long seed = 1; seed <= 6; seed++) {
            SplittableRandom random = new SplittableRandom(seed);
            List<Story> stories = new ArrayList<>();
            for (int i = 0; i < 3; i++) {
                stories.add(new Story(new AgentName("room " + seed + i), random.split()));
            }
            // Batches of three agents come in any order and some come twice. Those of one agent
            // come as its journal has them, with times that jump both ways while clocks are wrong.
            for (int step = 0; step < 25; step++) {
                Story story = stories.get(random.nextInt(stories.size()));
                List<JournalRecord> batch = story.next();
                store.append(story.agent, "j", batch);
                if (random.nextInt(5) == 0) {
                    store.append(story.agent, "j", batch);
                }
                if (step % 5 == 4) {
                    stories.forEach(each -> check(each, "seed " + story.agent));
                }
            }
        }
    }

    private void check(Story story, String where) {
        for (CabinetName cabinet : List.of(Journal.NORTH, SOUTH)) {
            CabinetKey key = new CabinetKey(story.agent, cabinet);
            CabinetCurves raw = store.everyReading(key, ALL);
            for (Tier tier : Tier.values()) {
                Map<String, String> found = new TreeMap<>();
                for (ProbeSummaries probe : store.summaries(key, ALL, tier)) {
                    found.put(probe.probe().value(), text(probe.summaries()));
                }
                Map<String, String> expected = new TreeMap<>();
                for (ProbeCurve probe : raw.probes()) {
                    expected.put(probe.probe().value(), summedUp(probe.curve(), tier));
                }
                assertEquals(expected, found, where + " " + key + " " + tier);
                assertEquals(
                        summedUp(raw.setPointCelsius(), tier),
                        stored(key, TierTable.SET_POINT, tier),
                        where);
                assertEquals(
                        summedUp(raw.heaterOnFraction(), tier),
                        stored(key, TierTable.HEATER, tier),
                        where);
            }
        }
    }

    private String stored(CabinetKey key, TierTable table, Tier tier) {
        return store.read(
                connection -> {
                    var cabinet = Keys.cabinetId(connection, key);
                    return cabinet.isEmpty()
                            ? ""
                            : text(
                                    new TierReader(connection, tier, ALL)
                                            .read(table, cabinet.getAsLong()));
                });
    }

    private static String text(Summaries summaries) {
        StringBuilder text = new StringBuilder();
        for (int i = 0; i < summaries.size(); i++) {
            line(
                    text,
                    summaries.beginMillis(i),
                    summaries.least(i),
                    summaries.greatest(i),
                    summaries.mean(i),
                    summaries.count(i),
                    summaries.badCount(i));
        }
        return text.toString();
    }

    private static void line(
            StringBuilder text,
            long begin,
            double least,
            double greatest,
            double mean,
            long count,
            long bad) {
        text.append(
                String.format(
                        Locale.ROOT,
                        "%d: %s to %s, mean %.6f of %d, %d bad%n",
                        begin,
                        least,
                        greatest,
                        mean,
                        count,
                        bad));
    }

    /** The plain way: a pass over all readings. Marks of holes are told from bad readings. */
    private static String summedUp(Curve curve, Tier tier) {
        TreeMap<Long, List<Double>> stretches = new TreeMap<>();
        for (int i = 0; i < curve.size(); i++) {
            long time = curve.epochMillis(i);
            boolean isMark =
                    Double.isNaN(curve.value(i)) && i > 0 && time == curve.epochMillis(i - 1) + 1;
            if (!isMark) {
                stretches
                        .computeIfAbsent(
                                Math.floorDiv(time, tier.stepMillis()) * tier.stepMillis(),
                                begin -> new ArrayList<>())
                        .add(curve.value(i));
            }
        }
        StringBuilder text = new StringBuilder();
        stretches.forEach(
                (begin, values) -> {
                    List<Double> good = values.stream().filter(v -> !v.isNaN()).toList();
                    double sum = 0;
                    for (double value : good) {
                        sum += Math.rint(value * 1e6);
                    }
                    line(
                            text,
                            begin,
                            good.stream().min(Double::compare).orElse(Double.NaN),
                            good.stream().max(Double::compare).orElse(Double.NaN),
                            good.isEmpty() ? Double.NaN : sum / 1e6 / good.size(),
                            good.size(),
                            values.size() - good.size());
                });
        return text.toString();
    }

    @Test
    void anySpanIsDrawnFromFewRowsAndNoExcursionDisappears() throws StoreException {
        AgentName agent = new AgentName("egg room");
        CabinetKey key = new CabinetKey(agent, Journal.NORTH);
        long seed = 11;
        SplittableRandom random = new SplittableRandom(seed);
        Journal journal = new Journal();
        // Ten days at one reading a minute, one of them in an hour of every second.
        double second = 0;
        for (int i = 0; i < 20_000; i++) {
            boolean isDense = i > 9000 && i < 15_000;
            second += isDense ? 1 : 60;
            double celsius = random.nextInt(700) == 0 ? 20 + random.nextInt(20) : 31.5;
            journal.top(second, celsius);
            if (i % 1000 == 999) {
                store.append(agent, "j", journal.take());
            }
        }
        store.append(agent, "j", journal.take());
        Curve raw = store.everyReading(key, ALL).probes().get(0).curve();
        for (int round = 0; round < 60; round++) {
            double length = Math.pow(10, 2 + 4 * random.nextDouble());
            double from = random.nextDouble() * second - length / 2;
            TimeSpan span = new TimeSpan(Journal.at(from), Journal.at(from + length));
            CabinetCurves curves = store.curves(key, span);
            String where = "seed " + seed + ", span " + span;
            double least = extreme(raw, span, -1);
            if (Double.isNaN(least)) {
                continue;
            }
            Curve drawn = curves.probes().get(0).curve();
            // A row gives two points, and a third where a gap follows.
            assertTrue(drawn.size() <= 3 * HistoryQueries.CURVE_ROWS_MAX, where);
            TimeSpan everything = new TimeSpan(Instant.EPOCH, Journal.at(1e9));
            assertTrue(extreme(drawn, everything, -1) <= least, where);
            assertTrue(extreme(drawn, everything, 1) >= extreme(raw, span, 1), where);
        }
        assertTrue(
                store.curves(key, ALL).probes().get(0).curve().size()
                        < HistoryQueries.CURVE_ROWS_MAX);
    }

    /** Least (-1) or greatest (1) value in a span; NaN for none. */
    private static double extreme(Curve curve, TimeSpan span, int sign) {
        double found = Double.NaN;
        for (int i = 0; i < curve.size(); i++) {
            Instant time = Instant.ofEpochMilli(curve.epochMillis(i));
            boolean isIn = !time.isBefore(span.from()) && time.isBefore(span.to());
            double value = curve.value(i);
            if (isIn && !Double.isNaN(value) && !(sign * value <= sign * found)) {
                found = value;
            }
        }
        return found;
    }

    @Test
    void aShortSpanHasEveryReadingAndALongOneSummedUpOnes() throws StoreException {
        AgentName agent = new AgentName("egg room");
        CabinetKey key = new CabinetKey(agent, Journal.NORTH);
        Journal journal = new Journal();
        for (int i = 1; i <= 4001; i++) {
            journal.top(5 * i, i == 2000 ? 40 : 31 + i % 2 / 16.0);
        }
        store.append(agent, "j", journal.take());
        TimeSpan few = new TimeSpan(Journal.at(0), Journal.at(5 * 4000 + 1));
        assertEquals(4000, store.curves(key, few).probes().get(0).curve().size());
        TimeSpan many = new TimeSpan(Journal.at(0), Journal.at(5 * 4001 + 1));
        CabinetCurves curves = store.curves(key, many);
        Curve line = curves.probes().get(0).curve();
        // 334 minutes, two extremes each.
        assertEquals(668, line.size());
        assertEquals(40, extreme(line, many, 1));
        assertEquals(31, extreme(line, many, -1));
        for (int i = 0; i < line.size(); i++) {
            assertTrue(line.epochMillis(i) <= Journal.at(5 * 4001).toEpochMilli(), "point " + i);
            assertTrue(i == 0 || line.epochMillis(i) >= line.epochMillis(i - 1), "point " + i);
            assertTrue(Math.abs(line.mean(i) - 31.03) < 0.8, "mean " + line.mean(i));
        }
        assertEquals(0.25, curves.heaterOnFraction().value(200), 1e-6);
        assertEquals(31.5, curves.setPointCelsius().value(100));
    }
}
