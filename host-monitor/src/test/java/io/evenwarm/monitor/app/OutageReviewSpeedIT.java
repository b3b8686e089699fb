package io.evenwarm.monitor.app;

import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.SystemClock;
import io.evenwarm.monitor.alarm.NewtonTimeLeft;
import io.evenwarm.monitor.app.LivedHistory.Probe;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.outage.EggBand;
import io.evenwarm.monitor.outage.Outage;
import io.evenwarm.monitor.report.OutageAccount;
import io.evenwarm.monitor.store.StoreFile;
import java.io.IOException;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Isolated;

/** How long the review of a gap takes, after 14 days of three probes at one reading each 5 s. */
@Tag("long")
@Isolated("measures how long something takes")
final class OutageReviewSpeedIT {

    private static final int RUNS = 7;

    @Test
    void reviewsOfAGapArePrintedWithTheirTimes(@TempDir Path data) throws IOException {
        MonotonicClock clock = SystemClock.monotonic();
        new LivedHistory(Probe.BOTTOM, Probe.ROOM).readEach(5).cut(14, 300).store(data);
        StoreFile store = new StoreFile(data);
        CabinetKey key = store.history().cabinets().get(0);
        long began = clock.nanos();
        List<Outage> events = new OutageEvents(store).ofAll(key);
        double listed = (clock.nanos() - began) / 1e9;
        OutageHistory history = new OutageHistory(store, NewtonTimeLeft.Assumptions.DEFAULT);
        double[] seconds = new double[RUNS];
        for (int run = 0; run < RUNS; run++) {
            began = clock.nanos();
            OutageAccount told = history.review(events.get(0));
            seconds[run] = (clock.nanos() - began) / 1e9;
            assertTrue(told.review().coldest().filter(EggBand::isLikelyKnown).isPresent());
        }
        double first = seconds[0];
        Arrays.sort(seconds);
        System.out.printf(
                "review of a gap after 14 days of 3 probes each 5 s: first %.3f s, median %.3f s,"
                        + " worst %.3f s of %d; finding the events %.3f s%n",
                first, seconds[RUNS / 2], seconds[RUNS - 1], RUNS, listed);
    }
}
