package io.evenwarm.monitor.store;

import static io.evenwarm.monitor.Journal.good;
import static org.junit.jupiter.api.Assertions.assertEquals;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.SystemClock;
import io.evenwarm.message.AgentName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.monitor.Journal;
import io.evenwarm.monitor.history.CabinetCurves;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.TimeSpan;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.Locale;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Reads a day of three probes at one record a second, checks every point, and prints the time. */
final class CurveSpeedIT {

    private static final int DAY_SECONDS = 86_400;
    private static final int RUNS = 21;

    private static double celsius(int probe, int second) {
        return 31.5 + probe + Math.rint(8 * Math.sin(second / 600.0)) / 16;
    }

    @Test
    void aDayOfThreeProbesComesBackWhole(@TempDir Path folder) throws IOException {
        AgentName agent = new AgentName("egg room");
        MonotonicClock clock = SystemClock.monotonic();
        try (HistoryStore store = HistoryStore.open(folder)) {
            Journal journal = new Journal();
            for (int s = 1; s <= DAY_SECONDS; s++) {
                journal.readings(
                        s,
                        good("top", ProbePlace.TOP, celsius(0, s)),
                        good("middle", ProbePlace.MIDDLE, celsius(1, s)),
                        good("bottom", ProbePlace.BOTTOM, celsius(2, s)));
                if (s % 64 == 0) {
                    store.append(agent, "j1", journal.take());
                }
            }
            CabinetKey key = new CabinetKey(agent, Journal.NORTH);
            TimeSpan day = new TimeSpan(Journal.at(1), Journal.at(DAY_SECONDS + 1));
            long[] nanos = new long[RUNS];
            for (int run = 0; run < RUNS; run++) {
                long begin = clock.nanos();
                CabinetCurves curves = store.everyReading(key, day);
                nanos[run] = clock.nanos() - begin;
                check(curves);
            }
            Arrays.sort(nanos);
            System.out.printf(
                    Locale.ROOT,
                    "history of 24 h, 3 probes, 1 s: 259,200 points in %.1f ms (median of %d;"
                            + " slowest %.1f ms); %.1f bytes a reading%n",
                    nanos[RUNS / 2] / 1e6,
                    RUNS,
                    nanos[RUNS - 1] / 1e6,
                    Files.size(folder.resolve(HistoryStore.FILE_NAME)) / (3.0 * DAY_SECONDS));
        }
    }

    private static void check(CabinetCurves curves) {
        assertEquals(3, curves.probes().size());
        for (int probe = 0; probe < 3; probe++) {
            var curve = curves.probes().get(probe).curve();
            assertEquals(DAY_SECONDS, curve.size());
            for (int i = 0; i < DAY_SECONDS; i++) {
                if (curve.value(i) != celsius(probe, i + 1)
                        || curve.epochMillis(i) != Journal.at(i + 1.0).toEpochMilli()) {
                    throw new AssertionError("point " + i + " of probe " + probe);
                }
            }
        }
    }
}
