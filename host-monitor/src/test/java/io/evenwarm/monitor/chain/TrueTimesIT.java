package io.evenwarm.monitor.chain;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.clock.SystemClock;
import io.evenwarm.message.AgentName;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.Curve;
import io.evenwarm.monitor.history.LogEntry;
import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.monitor.intake.AgentAddress;
import io.evenwarm.monitor.intake.Intake;
import io.evenwarm.monitor.intake.IntakeContext;
import io.evenwarm.monitor.live.LiveModel;
import io.evenwarm.monitor.store.HistoryStore;
import io.evenwarm.monitor.store.StoreException;
import io.evenwarm.testing.Waiting;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.TimeZone;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * An agent whose clock is wrong after a power cut, its journal on disk, its sessions and a
 * monitor's intake and store: what the monitor shows of an outage, and when it shows each reading,
 * is right. Clocks are virtual; only the link's own waits are real.
 */
final class TrueTimesIT {

    private static final AgentName AGENT = new AgentName("egg room");
    private static final TimeSpan ALL =
            new TimeSpan(Instant.EPOCH, Instant.parse("2100-01-01T00:00:00Z"));
    private static final Instant EVENING = Instant.parse("2026-03-01T18:00:00Z");
    private static final TimeZone ZONE = TimeZone.getDefault();
    private static final int SECONDS_MAX = 60;
    private static final long SEED = 3;

    /** What an outage's begin and end may be off beside what the power cut took. */
    private static final Duration RIGHT_WITHIN = Duration.ofSeconds(10);

    /** What a power cut takes: {@code commit_seconds}. */
    private static final Duration LOSS_BOUND = Duration.ofSeconds(10);

    @TempDir Path folder;

    /** Who sets the clock of a run that begins with a wrong one. */
    private enum Setter {
        TIME_SERVICE,
        MONITOR
    }

    /** Whether the monitor was there while the clock was wrong, or came when it was set. */
    private enum Link {
        BEFORE,
        AFTER
    }

    @AfterEach
    void zoneAsBefore() {
        TimeZone.setDefault(ZONE);
    }

    /** The monitor: its store, and its intake while it is there. */
    private static final class Monitor implements AutoCloseable {
        private final HistoryStore store;
        private final LiveModel live = new LiveModel(SystemClock.monotonic(), List.of(AGENT));
        private final VirtualAgent.World world;
        private Optional<Intake> intake = Optional.empty();

        Monitor(Path folder, VirtualAgent.World world) throws IOException {
            this.store = HistoryStore.open(folder);
            this.world = world;
        }

        void comes(VirtualAgent agent) {
            intake =
                    Optional.of(
                            Intake.start(
                                    new IntakeContext(
                                            "desk",
                                            "test",
                                            store,
                                            live,
                                            SystemClock.monotonic(),
                                            world.monitorClock(),
                                            SEED),
                                    List.of(new AgentAddress(AGENT, "memory", agent.port()))));
            catchesUp(agent);
        }

        void catchesUp(VirtualAgent agent) {
            Waiting.until(
                    SECONDS_MAX,
                    () -> stored() == agent.journal().lastCommittedSequence(),
                    () ->
                            stored()
                                    + " of "
                                    + agent.journal().lastCommittedSequence()
                                    + "; "
                                    + live.agents());
        }

        private long stored() {
            try {
                return store.newestJournal(AGENT).map(there -> there.lastSequence()).orElse(0L);
            } catch (StoreException e) {
                throw new AssertionError(e);
            }
        }

        void goes() {
            intake.ifPresent(Intake::close);
            intake = Optional.empty();
        }

        List<LogEntry> log(String begin) {
            List<LogEntry> all = new ArrayList<>(store.log(Optional.empty(), ALL, 1000));
            all.removeIf(each -> !each.words().startsWith(begin));
            return all;
        }

        /** Each reading is there once, in order, and at the time at which it was made. */
        void showsEachReadingWhereItWasMade(List<Instant> made, int gaps) {
            Curve curve =
                    store.everyReading(new CabinetKey(AGENT, VirtualAgent.CABINET), ALL)
                            .probes()
                            .get(0)
                            .curve();
            int seen = 0;
            int gapsSeen = 0;
            for (int i = 0; i < curve.size(); i++) {
                if (Double.isNaN(curve.value(i))) {
                    // A line that is drawn ends here.
                    gapsSeen++;
                    continue;
                }
                assertEquals(made.get(seen).toEpochMilli(), curve.epochMillis(i), "point " + i);
                assertEquals(
                        VirtualAgent.value(made.get(seen)).celsius(), curve.value(i), "point " + i);
                seen++;
            }
            assertEquals(made.size(), seen);
            assertEquals(gaps, gapsSeen, "each outage is a gap");
        }

        @Override
        public void close() {
            goes();
            store.close();
        }
    }

    private static void assertRight(Instant expected, Instant shown, Duration within, String what) {
        Duration off = Duration.between(expected, shown).abs();
        assertTrue(off.compareTo(within) <= 0, what + " is " + off + " off: " + shown);
    }

    private record Outage(Instant cut, Instant start) {}

    private static void assertOutages(Monitor monitor, Outage... outages) {
        List<LogEntry> shown = monitor.log("agent not running: the power failed");
        assertEquals(outages.length, shown.size(), shown.toString());
        for (int i = 0; i < outages.length; i++) {
            // Newest first.
            LogEntry entry = shown.get(outages.length - 1 - i);
            assertRight(outages[i].cut, entry.begin(), RIGHT_WITHIN.plus(LOSS_BOUND), "the begin");
            assertRight(
                    outages[i].start,
                    entry.end().orElseThrow(),
                    RIGHT_WITHIN.plus(LOSS_BOUND),
                    "the end");
        }
    }

    /** An hour and a half without power, and a clock that is wrong by so much until it is set. */
    private void assertAllIsRightAfterAPowerCut(
            Instant begin, Duration error, Setter setter, Link link) throws IOException {
        VirtualAgent.World world = new VirtualAgent.World(begin);
        try (Monitor monitor = new Monitor(folder.resolve("monitor"), world);
                VirtualAgent agent = new VirtualAgent(folder.resolve("agent"), AGENT, world)) {
            agent.boots(1, Duration.ZERO);
            agent.clockSetByTimeService();
            monitor.comes(agent);
            agent.seconds(607);
            monitor.catchesUp(agent);
            monitor.goes();
            agent.seconds(300);
            Instant cut = world.now();
            agent.powerFails();
            world.pass(Duration.ofMinutes(90));
            Instant start = world.now();
            agent.boots(2, error);
            Instant set;
            if (link == Link.BEFORE && setter == Setter.TIME_SERVICE) {
                agent.lookOnly();
                monitor.comes(agent);
                agent.seconds(120);
                monitor.catchesUp(agent);
                assertFalse(agent.isClockTrusted());
                assertTrue(monitor.log("clock set").isEmpty(), "nothing is known yet");
                set = world.now();
                agent.clockSetByTimeService();
            } else {
                agent.seconds(120);
                assertFalse(agent.isClockTrusted());
                set = world.now();
                if (setter == Setter.TIME_SERVICE) {
                    agent.clockSetByTimeService();
                    agent.seconds(30);
                }
                monitor.comes(agent);
                Waiting.until(SECONDS_MAX, agent::isClockTrusted, () -> "nobody told the time");
            }
            agent.seconds(120);
            agent.commits();
            monitor.catchesUp(agent);
            assertOutages(monitor, new Outage(cut, start));
            monitor.showsEachReadingWhereItWasMade(agent.keptReadings(), 1);
            assertCorrectionIsShown(monitor, start, set, error);
        }
    }

    private static void assertCorrectionIsShown(
            Monitor monitor, Instant start, Instant set, Duration error) {
        List<LogEntry> lines = monitor.log("clock set: ");
        assertEquals(1, lines.size(), lines.toString());
        LogEntry line = lines.get(0);
        assertRight(start, line.begin(), RIGHT_WITHIN, "the first corrected time");
        assertRight(set, line.end().orElseThrow(), RIGHT_WITHIN, "the last corrected time");
        Duration by = error.abs();
        String days = by.toDays() > 0 ? by.toDays() + " d " : "";
        assertEquals(
                "clock set: what the agent recorded in this time is dated "
                        + days
                        + String.format(
                                Locale.ROOT,
                                "%d:%02d:%02d h",
                                by.toHoursPart(),
                                by.toMinutesPart(),
                                by.toSecondsPart())
                        + (error.isNegative() ? " later" : " earlier")
                        + " than its clock showed then",
                line.words());
    }

    @Test
    void aClockHoursBehindThatTheTimeServiceSetsForwardWhileTheMonitorIsThere() throws IOException {
        assertAllIsRightAfterAPowerCut(
                EVENING, Duration.ofHours(-5), Setter.TIME_SERVICE, Link.BEFORE);
    }

    @Test
    void aClockHoursBehindThatTheTimeServiceSetsForwardBeforeTheMonitorComes() throws IOException {
        assertAllIsRightAfterAPowerCut(
                EVENING, Duration.ofHours(-5), Setter.TIME_SERVICE, Link.AFTER);
    }

    @Test
    void aClockHoursAheadThatTheTimeServiceSetsBackWhileTheMonitorIsThere() throws IOException {
        assertAllIsRightAfterAPowerCut(
                EVENING, Duration.ofHours(7).plusSeconds(185), Setter.TIME_SERVICE, Link.BEFORE);
    }

    @Test
    void aClockHoursAheadThatTheTimeServiceSetsBackBeforeTheMonitorComes() throws IOException {
        assertAllIsRightAfterAPowerCut(
                EVENING, Duration.ofHours(7).plusSeconds(185), Setter.TIME_SERVICE, Link.AFTER);
    }

    @Test
    void aClockHoursBehindThatTheMonitorTellsTheTime() throws IOException {
        assertAllIsRightAfterAPowerCut(EVENING, Duration.ofHours(-3), Setter.MONITOR, Link.AFTER);
    }

    @Test
    void aClockHoursAheadThatTheMonitorTellsTheTime() throws IOException {
        assertAllIsRightAfterAPowerCut(EVENING, Duration.ofHours(2), Setter.MONITOR, Link.AFTER);
    }

    @Test
    void aClockThatBeganIn1970() throws IOException {
        Instant start = EVENING.plusSeconds(607 + 300 + 90 * 60);
        assertAllIsRightAfterAPowerCut(
                EVENING, Duration.between(start, Instant.EPOCH), Setter.MONITOR, Link.AFTER);
    }

    /** Summer time began in Berlin at 01:00 UTC that day: while the power was away. */
    @Test
    void anOutageOverTheBeginningOfSummerTime() throws IOException {
        TimeZone.setDefault(TimeZone.getTimeZone("Europe/Berlin"));
        assertAllIsRightAfterAPowerCut(
                Instant.parse("2026-03-29T00:20:00Z"),
                Duration.ofHours(-1),
                Setter.TIME_SERVICE,
                Link.BEFORE);
    }

    /** It ended at 01:00 UTC that day: local times from two to three come twice. */
    @Test
    void anOutageOverTheEndOfSummerTime() throws IOException {
        TimeZone.setDefault(TimeZone.getTimeZone("Europe/Berlin"));
        assertAllIsRightAfterAPowerCut(
                Instant.parse("2026-10-25T00:20:00Z"),
                Duration.ofHours(1),
                Setter.TIME_SERVICE,
                Link.AFTER);
    }

    @Test
    void twoBootsInOneMinuteWithAPowerCutBetweenAreTwoOutages() throws IOException {
        VirtualAgent.World world = new VirtualAgent.World(EVENING);
        try (Monitor monitor = new Monitor(folder.resolve("monitor"), world);
                VirtualAgent agent = new VirtualAgent(folder.resolve("agent"), AGENT, world)) {
            agent.boots(1, Duration.ZERO);
            agent.clockSetByTimeService();
            agent.seconds(600);
            Instant firstCut = world.now();
            agent.powerFails();
            world.pass(Duration.ofMinutes(20));
            Instant second = world.now();
            agent.boots(2, Duration.ofHours(-5));
            agent.seconds(12);
            agent.clockSetByTimeService();
            agent.seconds(11);
            Instant secondCut = world.now();
            agent.powerFails();
            world.pass(Duration.ofSeconds(20));
            Instant third = world.now();
            assertTrue(Duration.between(second, third).toSeconds() < 60, "within a minute");
            // It remembers the same wrong time as before: both runs seem to begin at once.
            agent.boots(3, Duration.between(third, second.minus(Duration.ofHours(5))));
            agent.seconds(40);
            agent.clockSetByTimeService();
            agent.seconds(40);
            agent.commits();
            monitor.comes(agent);
            assertOutages(monitor, new Outage(firstCut, second), new Outage(secondCut, third));
            monitor.showsEachReadingWhereItWasMade(agent.keptReadings(), 2);
            assertEquals(2, monitor.log("clock set: ").size(), "one for each run");
        }
    }

    @Test
    void aMonitorWhoseOwnClockIsBeforeWhatIsJournalledIsNotBelieved() throws IOException {
        VirtualAgent.World world = new VirtualAgent.World(EVENING);
        try (Monitor monitor = new Monitor(folder.resolve("monitor"), world);
                VirtualAgent agent = new VirtualAgent(folder.resolve("agent"), AGENT, world)) {
            agent.boots(1, Duration.ZERO);
            agent.clockSetByTimeService();
            agent.seconds(600);
            agent.powerFails();
            world.pass(Duration.ofMinutes(20));
            agent.boots(2, Duration.ofHours(-5));
            agent.seconds(60);
            world.monitorClockWrongBy(Duration.ofHours(-1));
            monitor.comes(agent);
            Waiting.until(SECONDS_MAX, agent::wasToldATime, () -> "nobody told the time");
            assertFalse(agent.isClockTrusted());
            assertTrue(monitor.log("clock set").isEmpty());
        }
    }

    @Test
    void aMonitorThatMayOnlyLookIsNotBelieved() throws IOException {
        VirtualAgent.World world = new VirtualAgent.World(EVENING);
        try (Monitor monitor = new Monitor(folder.resolve("monitor"), world);
                VirtualAgent agent = new VirtualAgent(folder.resolve("agent"), AGENT, world)) {
            agent.boots(1, Duration.ofHours(-5));
            agent.lookOnly();
            agent.seconds(60);
            monitor.comes(agent);
            // It answers the time before it acknowledges the first batch, and so before the second.
            agent.seconds(30);
            monitor.catchesUp(agent);
            assertFalse(agent.isClockTrusted());
            assertFalse(agent.wasToldATime());
        }
    }
}
