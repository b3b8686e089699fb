package io.evenwarm.monitor.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.monitor.Journal;
import io.evenwarm.monitor.evenness.CabinetAir;
import io.evenwarm.monitor.evenness.FanState;
import io.evenwarm.monitor.evenness.ProbeRecord;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.monitor.store.HistoryStore;
import java.io.IOException;
import java.nio.file.Path;
import java.util.Optional;
import java.util.Random;
import java.util.function.DoubleFunction;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Two hundred days of an invented cabinet in a store, a reading each twenty minutes. */
final class AirHistoryTest {

    private static final int DAYS = 200;
    private static final AgentName ROOM = new AgentName("egg room");
    private static final CabinetKey NORTH = new CabinetKey(ROOM, Journal.NORTH);

    private final Path folder;

    AirHistoryTest(@TempDir Path folder) {
        this.folder = folder;
    }

    /** What is different from a day on. */
    private record Change(DoubleUnaryOperator flow, DoubleFunction<String> bottom) {
        double flow(double day) {
            return flow.applyAsDouble(day);
        }

        String bottom(double day) {
            return bottom.apply(day);
        }
    }

    private HistoryStore store(Change change) throws IOException {
        Journal journal = new Journal();
        Random random = new Random(4);
        for (int step = 0; step < DAYS * 72; step++) {
            double day = step / 72.0;
            double duty = 0.3 + 0.05 * Math.sin(2 * Math.PI * day) + 0.01 * random.nextGaussian();
            double parting = 0.1 + 1.4 * duty / change.flow(day) + 0.03 * random.nextGaussian();
            journal.readings(
                    1200.0 * step,
                    Journal.NORTH,
                    duty,
                    Journal.good("top", ProbePlace.TOP, 31.5 + parting / 2),
                    Journal.good("middle", ProbePlace.MIDDLE, 31.5),
                    Journal.good(change.bottom(day), ProbePlace.BOTTOM, 31.5 - parting / 2));
        }
        HistoryStore store = HistoryStore.open(folder);
        store.append(ROOM, "journal", journal.take());
        return store;
    }

    private static AirHistory history() {
        return new AirHistory(NORTH, ProbeRecord.EMPTY, Optional.empty());
    }

    @Test
    void howThingsStandIsKnownWithoutReadingTheMiddleOfALongRecord() throws IOException {
        Change weakening = new Change(day -> day < 170 ? 1 : 0.7, day -> "bottom");
        try (HistoryStore store = store(weakening)) {
            CabinetAir whole = history().read(store);
            CabinetAir soon = history().readToKnowNow(store);
            FanState state = whole.flow().state();
            assertTrue(state instanceof FanState.Weak, state.toString());
            assertEquals(state, soon.flow().state());
            assertEquals(whole.flow().sinceMillis(), soon.flow().sinceMillis());
            assertTrue(soon.flow().days().size() < whole.flow().days().size() - 60);
        }
    }

    @Test
    void otherProbesThatCameInTheMiddleAreLearnedFromWhenTheyCame() throws IOException {
        Change exchanged = new Change(day -> 1, day -> day < 60 ? "bottom" : "another");
        try (HistoryStore store = store(exchanged)) {
            CabinetAir whole = history().read(store);
            assertEquals(
                    61.0,
                    (whole.flow().sinceMillis() - Journal.EPOCH.toEpochMilli()) / 86_400e3,
                    1);
            assertEquals(
                    whole.flow().sinceMillis(),
                    history().readToKnowNow(store).flow().sinceMillis());
        }
    }

    @Test
    void eachStretchIsReadOnceHoweverItComes() throws IOException {
        Change none = new Change(day -> 1, day -> "bottom");
        try (HistoryStore store = store(none)) {
            AirHistory piecemeal = history();
            for (double end = 0.31; end < 40; end += 0.37) {
                CabinetAir unused =
                        piecemeal.read(
                                store, new TimeSpan(Journal.EPOCH, Journal.at(end * 86_400)));
            }
            TimeSpan all = new TimeSpan(Journal.EPOCH, Journal.at(40 * 86_400.0));
            assertEquals(
                    history().read(store, all).flow().days(),
                    piecemeal.read(store, all).flow().days());
        }
    }
}
