package io.evenwarm.agent.serve;

import static io.evenwarm.agent.Snapshots.cabinet;

import io.evenwarm.agent.HandClock;
import io.evenwarm.agent.Snapshots;
import io.evenwarm.agent.journal.Journal;
import io.evenwarm.agent.journal.JournalFeed;
import io.evenwarm.agent.journal.JournalSettings;
import io.evenwarm.agent.port.CommandIntake;
import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.link.Identity;
import io.evenwarm.message.AgentName;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Command;
import io.evenwarm.message.CommandOutcome;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;

/**
 * All of an agent that its sessions see: a real journal on a real file, a board, a server. The
 * control thread is the test's hand.
 */
final class AgentRig implements AutoCloseable {

    static final AgentName NAME = new AgentName("egg room");

    /** Its key, also where it is asked to be paired. */
    static final Identity IDENTITY = Identity.create("evenwarm");

    private final ListedMonitors monitors = new ListedMonitors();
    private final PairingDesk pairing;
    private final HandClock journalClock = new HandClock();
    private final SnapshotBoard board =
            new SnapshotBoard(List.of(cabinet("north"), cabinet("south")));
    private final Journal journal;
    private final MonitorServer server;
    private long tick;

    AgentRig(Path folder, MonotonicClock sessionClock) {
        journal =
                new Journal(
                        JournalSettings.defaults(folder.resolve("journal.sqlite")),
                        journalClock,
                        journalClock);
        CommandIntake commands = (command, answer) -> answer.accept(command.fold(new Answers()));
        pairing = new PairingDesk(NAME, monitors, () -> IDENTITY, sessionClock);
        ServeContext context =
                new ServeContext(
                        NAME,
                        "evenwarm-agent test",
                        1,
                        () -> Snapshots.moment(0),
                        board,
                        journal,
                        commands,
                        sessionClock,
                        List::of,
                        RunState.NONE,
                        pairing);
        server = new MonitorServer(context, Duration.ofMillis(50));
    }

    /** What sessions see of an agent whose board, journal and commands are the test's. */
    static ServeContext context(
            SnapshotBoard board,
            JournalFeed journal,
            CommandIntake commands,
            MonotonicClock clock,
            RunState run,
            PairingDesk desk) {
        return new ServeContext(
                NAME,
                "agent 1",
                1,
                () -> Snapshots.moment(7),
                board,
                journal,
                commands,
                clock,
                List::of,
                run,
                desk);
    }

    /** What a loop might answer; to be silent is what a mistake in our own code would do. */
    private static final class Answers implements Command.Cases<CommandOutcome> {

        @Override
        public CommandOutcome setSetPoint(Command.SetSetPoint command) {
            return new CommandOutcome.Done("set to " + command.setPoint().celsius());
        }

        @Override
        public CommandOutcome resetCutOff(Command.ResetCutOff command) {
            return new CommandOutcome.Refused("it is not tripped");
        }

        @Override
        public CommandOutcome silence(Command.Silence command) {
            throw new IllegalStateException("no outcome for " + command.cabinet());
        }

        @Override
        public CommandOutcome startPlannedWork(Command.StartPlannedWork command) {
            return new CommandOutcome.Done("begun");
        }

        @Override
        public CommandOutcome endPlannedWork(Command.EndPlannedWork command) {
            return new CommandOutcome.Done("ended");
        }

        @Override
        public CommandOutcome tune(Command.Tune command) {
            return new CommandOutcome.Done("tuned");
        }
    }

    ListedMonitors monitors() {
        return monitors;
    }

    PairingDesk pairing() {
        return pairing;
    }

    MonitorServer server() {
        return server;
    }

    Journal journal() {
        return journal;
    }

    SnapshotBoard board() {
        return board;
    }

    /** So many ticks of both cabinets, journalled but not shown. */
    void journalTicks(int count) {
        for (int i = 0; i < count; i++) {
            tick++;
            journal.published(Snapshots.healthy("north", tick, tick % 3 == 0));
            journal.published(Snapshots.healthy("south", tick, tick % 2 == 0));
            journal.step(journalClock.advanceSeconds(1));
        }
    }

    /** One more snapshot on the board. */
    CabinetSnapshot show(String cabinet, long number) {
        CabinetSnapshot snapshot = Snapshots.healthy(cabinet, number, true);
        board.published(snapshot);
        return snapshot;
    }

    @Override
    public void close() {
        server.close();
        journal.close();
    }
}
