package io.evenwarm.agent.serve;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.HandClock;
import io.evenwarm.agent.journal.Journal;
import io.evenwarm.agent.journal.JournalSettings;
import io.evenwarm.agent.plant.CabinetBuild;
import io.evenwarm.agent.plant.PlantFault;
import io.evenwarm.agent.port.SnapshotListener;
import io.evenwarm.agent.testing.Plans;
import io.evenwarm.agent.testing.VirtualRun;
import io.evenwarm.clock.SystemClock;
import io.evenwarm.message.AgentName;
import io.evenwarm.message.Command;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.Message;
import io.evenwarm.message.Message.Hello;
import io.evenwarm.message.Moment;
import io.evenwarm.quantity.Temperature;
import io.evenwarm.testing.MemoryListener;
import io.evenwarm.testing.Waiting;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * The agent's own loop on a simulated cabinet and a virtual clock, with the real journal and the
 * real server beside it: however those fail, every drive of every line is the same, compared by
 * SHA-256.
 */
@Tag("long")
final class SameOutputsWhateverFailsIT {

    private static final long SEED = 7;
    private static final long HALF_TIME = 3600;
    private static final long TICKS = 2 * HALF_TIME;

    @TempDir Path folder;

    /** What stands beside the loop, and what goes wrong with it. */
    private interface Beside {
        List<SnapshotListener> listeners();

        void afterTick(long tick) throws IOException;

        default void end() throws IOException {}
    }

    /** Two eventful hours; returns the trace. */
    private static String run(Beside beside) throws IOException {
        VirtualRun run =
                new VirtualRun(
                        Plans.threeProbes(),
                        CabinetBuild.ofVolume(250, 1.0, 3),
                        SEED,
                        beside.listeners());
        PlantFault fan = new PlantFault.FanStopped();
        PlantFault hang = new PlantFault.BusHang();
        for (long tick = 1; tick <= TICKS; tick++) {
            run.tick();
            beside.afterTick(tick);
            if (tick == 2000) {
                run.loop()
                        .submit(
                                new Command.SetSetPoint(Plans.NORTH, new Temperature(31)),
                                outcome -> {});
            } else if (tick == HALF_TIME + 100) {
                run.cabinet().inject(fan);
            } else if (tick == HALF_TIME + 1500) {
                run.cabinet().clear(fan);
                run.cabinet().inject(hang);
            } else if (tick == HALF_TIME + 1600) {
                run.cabinet().clear(hang);
            }
        }
        beside.end();
        assertTrue(run.trace().heaterOnDrives() > 1000, "nothing happened");
        return run.trace().sha256();
    }

    private static String alone() throws IOException {
        return run(
                new Beside() {
                    @Override
                    public List<SnapshotListener> listeners() {
                        return List.of();
                    }

                    @Override
                    public void afterTick(long tick) {}
                });
    }

    private void assertSameOutputs(String what, Beside beside) throws IOException {
        String reference = alone();
        String trace = run(beside);
        System.out.println("whole-6 " + what + ": output trace of seed 7 is sha256 " + trace);
        assertEquals(reference, trace, what);
    }

    /** Journal and server as the agent has them, and one monitor that collects. */
    private static class Whole implements Beside {
        final HandClock clock = new HandClock();
        final SnapshotBoard board = new SnapshotBoard(List.of(Plans.NORTH));
        final MemoryListener listener = new MemoryListener();
        final Journal journal;
        final MonitorServer server;
        final CollectingMonitor monitor;

        Whole(JournalSettings settings) {
            journal = new Journal(settings, clock, clock);
            Moment start = io.evenwarm.agent.Snapshots.moment(0);
            server =
                    new MonitorServer(
                            new ServeContext(
                                    new AgentName("egg room"),
                                    "evenwarm-agent test",
                                    1,
                                    () -> start,
                                    board,
                                    journal,
                                    (command, answer) -> {},
                                    SystemClock.monotonic(),
                                    List::of,
                                    RunState.NONE));
            server.listen("memory", () -> listener, MonitorServer.MAX_MONITORS);
            monitor = new CollectingMonitor(listener.connect());
        }

        @Override
        public List<SnapshotListener> listeners() {
            return List.of(journal, board);
        }

        @Override
        public void afterTick(long tick) throws IOException {
            journal.step(clock.advanceSeconds(1));
        }

        @Override
        public void end() throws IOException {
            server.close();
            journal.close();
        }

        void awaitCompleteHistory() {
            Waiting.until(
                    "the monitor has all history",
                    () -> monitor.stored().size() == journal.lastCommittedSequence());
            List<JournalRecord> stored = monitor.stored();
            for (int i = 0; i < stored.size(); i++) {
                assertEquals(i + 1, stored.get(i).sequence());
            }
            assertTrue(stored.size() > TICKS / 5, "only " + stored.size() + " records");
        }
    }

    private JournalSettings settings() {
        return new JournalSettings(folder.resolve("journal.sqlite"), 5, 60, 400, 2_000_000_000L);
    }

    @Test
    void withAJournalAndAMonitorThatWork() throws IOException {
        assertSameOutputs(
                "journal and monitor work",
                new Whole(settings()) {
                    @Override
                    public void end() throws IOException {
                        awaitCompleteHistory();
                        assertTrue(monitor.lives() > 0, "the monitor saw nothing live");
                        super.end();
                    }
                });
    }

    @Test
    void withALinkThatIsLostAndComesBack() throws IOException {
        assertSameOutputs(
                "link lost",
                new Whole(settings()) {
                    @Override
                    public void afterTick(long tick) throws IOException {
                        super.afterTick(tick);
                        if (tick == HALF_TIME) {
                            monitor.cut();
                        } else if (tick == HALF_TIME + 1800) {
                            monitor.connect(listener.connect());
                        }
                    }

                    @Override
                    public void end() throws IOException {
                        awaitCompleteHistory();
                        super.end();
                    }
                });
    }

    @Test
    void withAMonitorThatReadsNothing() throws IOException {
        assertSameOutputs(
                "monitor reads nothing",
                new Whole(settings()) {
                    @Override
                    public void afterTick(long tick) throws IOException {
                        super.afterTick(tick);
                        if (tick == HALF_TIME) {
                            var stuck = listener.connect();
                            stuck.send(
                                    new Hello(List.of(1), Hello.Side.MONITOR, "stuck", "test", 1));
                            stuck.send(new Message.HistoryRequest(0));
                        }
                    }
                });
    }

    /** The page limit makes SQLite itself answer SQLITE_FULL, as on a disk without room. */
    @Test
    void withADiskThatIsFull() throws IOException {
        JournalSettings full =
                new JournalSettings(folder.resolve("journal.sqlite"), 1, 10, 400, 64 * 1024);
        assertSameOutputs(
                "disk full",
                new Whole(full) {
                    private Optional<String> said = Optional.empty();

                    @Override
                    public void afterTick(long tick) throws IOException {
                        super.afterTick(tick);
                        said = said.or(() -> journal.health().trouble());
                    }

                    @Override
                    public void end() throws IOException {
                        assertTrue(said.orElse("works").contains("disk is full"), said::toString);
                        super.end();
                    }
                });
    }

    @Test
    void withAJournalWhoseWriterHangs() throws IOException {
        assertSameOutputs(
                "journal hangs",
                new Whole(settings()) {
                    @Override
                    public void afterTick(long tick) throws IOException {
                        if (tick < HALF_TIME) {
                            super.afterTick(tick);
                        }
                    }

                    @Override
                    public void end() throws IOException {
                        assertTrue(journal.lostItems() > 1000, "nothing was lost");
                        super.end();
                    }
                });
    }

    @Test
    void withAJournalWhoseFileIsOverwrittenWithGarbage() throws IOException {
        JournalSettings settings = settings();
        assertSameOutputs(
                "journal damaged",
                new Whole(settings) {
                    private Optional<String> said = Optional.empty();

                    @Override
                    public void afterTick(long tick) throws IOException {
                        super.afterTick(tick);
                        said = said.or(() -> journal.health().trouble());
                        if (tick == HALF_TIME) {
                            Files.writeString(settings.file(), "garbage".repeat(2000));
                            Files.writeString(
                                    settings.file().resolveSibling("journal.sqlite-wal"), "");
                            // Asks for all from the start, and so has the damage read.
                            new CollectingMonitor(listener.connect());
                        }
                    }

                    @Override
                    public void end() throws IOException {
                        assertTrue(said.isPresent(), "the damage was not found");
                        super.end();
                    }
                });
    }

    @Test
    void withAJournalThatCantBeginAtAll() throws IOException {
        Files.writeString(folder.resolve("state"), "a file in the folder's place");
        JournalSettings nowhere =
                new JournalSettings(
                        folder.resolve("state").resolve("journal.sqlite"),
                        5,
                        10,
                        400,
                        2_000_000_000L);
        assertSameOutputs(
                "no journal",
                new Whole(nowhere) {
                    @Override
                    public void end() throws IOException {
                        assertTrue(journal.health().trouble().isPresent());
                        super.end();
                    }
                });
    }
}
