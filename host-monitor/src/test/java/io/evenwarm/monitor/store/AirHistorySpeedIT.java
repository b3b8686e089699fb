package io.evenwarm.monitor.store;

import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.SystemClock;
import io.evenwarm.message.AgentName;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.monitor.Journal;
import io.evenwarm.monitor.evenness.CabinetAir;
import io.evenwarm.monitor.evenness.ProbeRecord;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.report.AirHistory;
import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * How long a monitor needs after a start to know the air of all its cabinets again, from a store of
 * years, and how long for one look later. {@code -Dair.cabinets=20 -Dair.days=730} is the whole
 * claim.
 */
@Tag("long")
final class AirHistorySpeedIT {

    private static final int CABINETS = Integer.getInteger("air.cabinets", 2);
    private static final int DAYS = Integer.getInteger("air.days", 365);
    private static final double SECONDS_MAX = 5;
    private static final AgentName ROOM = new AgentName("egg room");

    private final MonotonicClock clock = SystemClock.monotonic();

    private static CabinetKey key(int cabinet) {
        return new CabinetKey(ROOM, new CabinetName("cabinet " + cabinet));
    }

    /** A reading each ten minutes: the tier has as many rows as with one each second. */
    private static void fill(HistoryStore store) throws IOException {
        Journal journal = new Journal();
        for (int step = 0; step < DAYS * 144; step++) {
            double swing = 0.1 * Math.sin(step / 23.0);
            double duty = 0.3 + 0.1 * Math.sin(step / 144.0);
            for (int cabinet = 0; cabinet < CABINETS; cabinet++) {
                journal.readings(
                        600.0 * step,
                        key(cabinet).cabinet(),
                        duty,
                        Journal.good("top", ProbePlace.TOP, 31.8 + swing + duty),
                        Journal.good("middle", ProbePlace.MIDDLE, 31.5 + swing),
                        Journal.good("bottom", ProbePlace.BOTTOM, 31.2 + swing - duty));
            }
            if (step % 1440 == 1439) {
                store.append(ROOM, "journal", journal.take());
            }
        }
        store.append(ROOM, "journal", journal.take());
    }

    @Test
    void theAirOfAllCabinetsIsKnownAgainSoonAfterAStartAndAtOnceLater(@TempDir Path folder)
            throws IOException {
        try (HistoryStore store = HistoryStore.open(folder)) {
            fill(store);
        }
        try (HistoryStore store = HistoryStore.open(folder)) {
            long begin = clock.nanos();
            List<AirHistory> histories = new ArrayList<>();
            for (int cabinet = 0; cabinet < CABINETS; cabinet++) {
                AirHistory history =
                        new AirHistory(key(cabinet), ProbeRecord.EMPTY, Optional.empty());
                CabinetAir air = history.readToKnowNow(store);
                assertTrue(air.isLearned(), "learned");
                histories.add(history);
            }
            double first = (clock.nanos() - begin) / 1e9;
            begin = clock.nanos();
            for (AirHistory history : histories) {
                CabinetAir unused = history.read(store);
            }
            double later = (clock.nanos() - begin) / 1e9;
            System.out.printf(
                    Locale.ROOT,
                    "air of %d cabinets over %d days, 3 probes: %.2f s after a start, %.3f s each"
                            + " look later%n",
                    CABINETS,
                    DAYS,
                    first,
                    later);
            assertTrue(first < SECONDS_MAX, first + " s");
            assertTrue(later < 1, later + " s");
        }
    }
}
