package io.evenwarm.monitor.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.BootId;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.GuardState;
import io.evenwarm.message.Moment;
import io.evenwarm.monitor.Journal;
import io.evenwarm.monitor.alarm.AlarmDesk;
import io.evenwarm.monitor.alarm.AlarmSettings;
import io.evenwarm.monitor.alarm.NewtonTimeLeft;
import io.evenwarm.monitor.alarm.Now;
import io.evenwarm.monitor.alarm.TimeLeft;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.live.AgentState;
import io.evenwarm.monitor.live.LiveCabinet;
import io.evenwarm.monitor.live.LiveView;
import io.evenwarm.monitor.live.Liveness;
import io.evenwarm.monitor.store.HistoryStore;
import io.evenwarm.monitor.thermal.EggTrack;
import io.evenwarm.monitor.thermal.Span;
import io.evenwarm.quantity.Duty;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import java.util.UUID;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The time left by a cabinet's own model, over a store with days of an invented cabinet. */
final class EggWatchTest {

    private static final CabinetKey KEY = new CabinetKey(LivedCabinet.AGENT, Journal.NORTH);

    /** The usual ones but for a limit that the invented room is well below. */
    private static final NewtonTimeLeft.Assumptions ASSUMED =
            new NewtonTimeLeft.Assumptions(24, 5400, 12, 4, 30, 2, 2, 40);

    private record Known(List<LiveCabinet> cabinets, List<AgentState> agents) implements LiveView {}

    private final Path data;
    private final List<LiveCabinet> live = new ArrayList<>();

    EggWatchTest(@TempDir Path data) {
        this.data = data;
    }

    private EggWatch watch(HistoryStore store) {
        return new EggWatch(store, new Known(live, List.of()), List::of, ASSUMED);
    }

    /** As the cabinet is in some minute of its life. */
    private CabinetSnapshot seen(LivedCabinet cabinet, int minute, boolean isHeaterOn) {
        long nanos = Duration.ofMinutes(minute).toNanos();
        CabinetSnapshot snapshot =
                new CabinetSnapshot(
                        Journal.NORTH,
                        minute,
                        new Moment(
                                new BootId(new UUID(1, 1)), nanos, Journal.at(minute * 60.0), true),
                        cabinet.probes(),
                        Optional.of(Journal.celsius(30)),
                        Journal.celsius(31),
                        Journal.celsius(31),
                        Journal.LIMITS,
                        Duty.ofFraction(isHeaterOn ? 1 : 0),
                        isHeaterOn,
                        Optional.empty(),
                        Optional.empty(),
                        GuardState.ALLOWING,
                        List.of(),
                        false);
        live.clear();
        live.add(new LiveCabinet(KEY, snapshot, Liveness.LIVE, Duration.ZERO, 1));
        return snapshot;
    }

    private static double seconds(Optional<Duration> left) {
        return left.orElseThrow().toSeconds();
    }

    @Test
    void theModelsTimeIsNearTheTrueOneAndNotAfterIt() throws IOException {
        LivedCabinet cabinet = LivedCabinet.lived(data, 5.5);
        try (HistoryStore store = HistoryStore.open(data);
                EggWatch watch = watch(store)) {
            int minute = 5 * 1440 + 720;
            CabinetSnapshot snapshot = seen(cabinet, minute, true);
            watch.round();
            TimeLeft.Estimate left = watch.of(KEY, snapshot, 30);
            assertTrue(left.assumptions().contains("this cabinet's own model"), left.assumptions());
            AlarmDesk desk =
                    AlarmDesk.begin(
                            AlarmSettings.DEFAULT,
                            watch,
                            Set.of(LivedCabinet.AGENT),
                            new Now(Journal.EPOCH, 0));
            desk.received(LivedCabinet.AGENT, snapshot, new Now(Journal.EPOCH, 0));
            assertEquals(Optional.of(left), desk.timeLeft(KEY));
            double before = cabinet.eggs;
            int truth = 0;
            while (cabinet.eggs - 0.2 > ASSUMED.coldLimitCelsius()) {
                cabinet.minute(0, LivedCabinet.roomCelsius(minute + truth));
                truth++;
            }
            assertTrue(seconds(left.toCold()) <= truth * 60, left + " and " + truth);
            assertTrue(seconds(left.toCold()) >= 0.6 * truth * 60, left + " and " + truth);
            EggTrack eggs = watch.track(KEY).orElseThrow();
            assertFalse(eggs.isKnown(0), "a record's first hours say nothing of eggs");
            Span now = eggs.celsius(eggs.size() - 1);
            assertTrue(now.low() <= before - 0.2 && before <= now.high(), now + " of " + before);
            assertTrue(now.high() - now.low() < 2, now.toString());
            double byConstants = seconds(new NewtonTimeLeft(ASSUMED).of(snapshot, 30).toCold());
            assertTrue(seconds(left.toCold()) > byConstants, left + " and " + byConstants);
        }
    }

    @Test
    void eggsAreFollowedWhileTheHeaterGivesNoHeatThatIsAskedOfIt() throws IOException {
        LivedCabinet cabinet = LivedCabinet.lived(data, 5.5);
        try (HistoryStore store = HistoryStore.open(data);
                EggWatch watch = watch(store)) {
            int minute = 5 * 1440 + 720;
            double before = 0;
            CabinetSnapshot snapshot = seen(cabinet, minute, true);
            for (int i = 0; i < 120; i++) {
                snapshot = seen(cabinet, minute + i, true);
                watch.round();
                if (i == 0) {
                    before = seconds(watch.of(KEY, snapshot, 30).toCold());
                }
                cabinet.minute(0, LivedCabinet.roomCelsius(minute + i));
            }
            TimeLeft.Estimate after = watch.of(KEY, snapshot, 30);
            assertTrue(seconds(after.toCold()) < before - 3600, before + " then " + after);
            String eggs = String.format(Locale.ROOT, "%.0f", cabinet.eggs - 0.2);
            assertTrue(
                    after.assumptions().contains("eggs about " + eggs + "."),
                    cabinet.eggs + after.assumptions());
        }
    }

    @Test
    void withLittleHistoryTheConstantsAnswerAndSaySo() throws IOException {
        LivedCabinet cabinet = LivedCabinet.lived(data, 1);
        try (HistoryStore store = HistoryStore.open(data);
                EggWatch watch = watch(store)) {
            CabinetSnapshot snapshot = seen(cabinet, 1440, true);
            watch.round();
            TimeLeft.Estimate left = watch.of(KEY, snapshot, 30);
            TimeLeft.Estimate byConstants = new NewtonTimeLeft(ASSUMED).of(snapshot, 30);
            assertEquals(byConstants.toCold(), left.toCold());
            assertTrue(
                    left.assumptions()
                            .startsWith(
                                    "no model of this cabinet (it takes two days of air, room and"
                                            + " heater): conservative"),
                    left.assumptions());
        }
    }

    @Test
    void anAnswerThatIsTooOldIsNone() throws IOException {
        LivedCabinet cabinet = LivedCabinet.lived(data, 5.5);
        try (HistoryStore store = HistoryStore.open(data);
                EggWatch watch = watch(store)) {
            seen(cabinet, 5 * 1440 + 720, true);
            watch.round();
            CabinetSnapshot later = seen(cabinet, 5 * 1440 + 751, true);
            assertTrue(
                    watch.of(KEY, later, 30).assumptions().startsWith("no model"),
                    "31 min without a look");
        }
    }

    @Test
    void aReloadingThatWasAnnouncedMakesNoModelPoorThoughNoListOfTubsTellsOfIt(
            @TempDir Path unannounced) throws IOException {
        OptionalInt reloaded = OptionalInt.of(4 * 1440 + 600);
        assertTrue(
                assumptions(unannounced, LivedCabinet.lived(unannounced, 5.5, reloaded, false))
                        .startsWith("no model of this cabinet (its model foretells its own days"),
                "nothing tells of it");
        String announced = assumptions(data, LivedCabinet.lived(data, 5.5, reloaded, true));
        assertTrue(announced.startsWith("this cabinet's own model"), announced);
    }

    private String assumptions(Path folder, LivedCabinet cabinet) throws IOException {
        try (HistoryStore store = HistoryStore.open(folder);
                EggWatch watch = watch(store)) {
            CabinetSnapshot snapshot = seen(cabinet, 5 * 1440 + 720, true);
            watch.round();
            return watch.of(KEY, snapshot, 30).assumptions();
        }
    }
}
