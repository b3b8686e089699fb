package io.evenwarm.agent.journal;

import com.sun.jna.Function;
import com.sun.jna.NativeLibrary;
import io.evenwarm.agent.HandClock;
import io.evenwarm.agent.durable.FileLatchStore;
import io.evenwarm.agent.plant.CabinetBuild;
import io.evenwarm.agent.port.Latch;
import io.evenwarm.agent.port.LatchStore;
import io.evenwarm.agent.testing.Plans;
import io.evenwarm.agent.testing.VirtualRun;
import io.evenwarm.message.Command;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.JournalRecord.Readings;
import io.evenwarm.quantity.Temperature;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.List;
import java.util.logging.Level;
import java.util.logging.Logger;

/**
 * A cabinet under control with journal and latch on a disk whose Nth write, sync, opening or change
 * of a name fails, for every N until a run is clean: a program of its own for {@link
 * FailingDiskIT}. Ends with 0 when all held.
 */
final class FailingDiskProcess {

    /** Error numbers: errno(3), Linux. */
    private static final int EIO = 5;

    private static final int ENOSPC = 28;

    private static final int TICKS = 120;
    private static final int TICKS_AFTER = 80;
    private static final int TICKS_A_LATCH = 40;
    private static final long SEED = 3;

    /** A reading each second, committed every ten. */
    private static final int COMMIT_SECONDS = 10;

    private final Path folder;
    private final Function fail;
    private final Function calls;
    private final Function failedAtFolder;

    private FailingDiskProcess(Path folder) {
        this.folder = folder;
        NativeLibrary layer = NativeLibrary.getProcess();
        this.fail = layer.getFunction("file_layer_fail");
        this.calls = layer.getFunction("file_layer_calls");
        this.failedAtFolder = layer.getFunction("file_layer_failed_at_folder");
    }

    public static void main(String[] arguments) throws IOException, SQLException {
        // Thousands of failures are said in the log; here they are counted.
        Logger.getLogger("io.evenwarm").setLevel(Level.OFF);
        FailingDiskProcess process = new FailingDiskProcess(Path.of(arguments[0]));
        String reference = process.new Trial(0, false, EIO).run();
        process.everyCall("once with EIO", false, EIO, reference);
        process.everyCall("once with ENOSPC", false, ENOSPC, reference);
        process.everyCall("from then on with EIO", true, EIO, reference);
    }

    private void everyCall(String how, boolean andAllAfter, int error, String reference)
            throws IOException, SQLException {
        int told = 0;
        int closing = 0;
        int folder = 0;
        StringBuilder untold = new StringBuilder();
        long number = 0;
        while (true) {
            number++;
            Trial trial = new Trial(number, andAllAfter, error);
            require(trial.run().equals(reference), how, number, "other outputs");
            if (trial.failedCalls == 0) {
                break;
            }
            if (trial.isTold) {
                told++;
            } else if (trial.isFailedAtTheEnd) {
                closing++;
            } else if (trial.isFailedAtFolder) {
                folder++;
            } else {
                untold.append(' ').append(number);
            }
        }
        System.out.println(
                "kept-2 agent, each call "
                        + how
                        + ": "
                        + (number - 1)
                        + " calls; same outputs, sound, nothing lost or doubled; "
                        + told
                        + " told, "
                        + closing
                        + " while closing and "
                        + folder
                        + " in SQLite's own syncs of the folder, which the journal does again;"
                        + " not told and lost by it:"
                        + (untold.isEmpty() ? " none" : untold));
    }

    private static void require(boolean holds, String how, long number, String words) {
        if (!holds) {
            throw new IllegalStateException(how + ", call " + number + ": " + words);
        }
    }

    /** One run, and what came of it. */
    private final class Trial {
        private final String how;
        private final long number;
        private final boolean andAllAfter;
        private final int error;
        private final Path state;
        private boolean isTold;
        private boolean isFailedAtTheEnd;
        private boolean isFailedAtFolder;
        private long failedCalls;
        private long seconds;

        Trial(long number, boolean andAllAfter, int error) {
            this.how = (andAllAfter ? "from then on" : "once") + " with " + error;
            this.number = number;
            this.andAllAfter = andAllAfter;
            this.error = error;
            this.state = folder.resolve("run-" + andAllAfter + error + "-" + number);
        }

        /** Returns the outputs' trace. */
        String run() throws IOException, SQLException {
            Files.createDirectory(state);
            HandClock clock = new HandClock();
            Journal journal =
                    new Journal(
                            new JournalSettings(
                                    state.resolve("journal.sqlite"),
                                    1,
                                    COMMIT_SECONDS,
                                    400,
                                    2_000_000_000L),
                            clock,
                            clock);
            LatchStore latches = new FileLatchStore(state);
            VirtualRun run =
                    new VirtualRun(
                            Plans.threeProbes(),
                            CabinetBuild.ofVolume(250, 1.0, 3),
                            SEED,
                            List.of(journal));
            fail.invoke(new Object[] {number, andAllAfter ? 1 : 0, error});
            long saved = 0;
            for (int tick = 1; tick <= TICKS; tick++) {
                tick(run, journal, clock);
                if (tick == 33) {
                    run.loop()
                            .submit(
                                    new Command.SetSetPoint(Plans.NORTH, new Temperature(31)),
                                    outcome -> {});
                }
                if (tick % TICKS_A_LATCH == 0) {
                    saved = save(latches, tick, saved);
                }
            }
            String outputs = run.trace().sha256();
            boolean isReached = isReached();
            if (!andAllAfter) {
                // Closed on the same disk, so that the call may be one of those.
                journal.close();
                isTold |= journal.health().trouble().isPresent();
                isFailedAtTheEnd = !isReached && isReached();
            }
            failedCalls = isReached() ? 1 : 0;
            isFailedAtFolder = failedAtFolder.invokeInt(new Object[] {}) != 0;
            fail.invoke(new Object[] {0L, 0, 0});
            if (andAllAfter) {
                for (int tick = 1; tick <= TICKS_AFTER; tick++) {
                    tick(run, journal, clock);
                }
                require(journal.health().trouble().isEmpty(), how, number, "it stays broken");
                journal.close();
            }
            check(latches, saved, clock);
            return outputs;
        }

        private boolean isReached() {
            return number > 0 && calls.invokeLong(new Object[] {}) >= number;
        }

        private void tick(VirtualRun run, Journal journal, HandClock clock) {
            seconds++;
            run.tick();
            journal.step(clock.advanceSeconds(1));
            isTold |= journal.health().trouble().isPresent();
        }

        private long save(LatchStore latches, int tick, long saved) {
            try {
                latches.save(Plans.NORTH, new Latch.Tripped("at " + tick));
                return tick;
            } catch (IOException e) {
                isTold = true;
                return saved;
            }
        }

        private void check(LatchStore latches, long saved, HandClock clock)
                throws IOException, SQLException {
            Path file = state.resolve("journal.sqlite");
            try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + file);
                    Statement statement = connection.createStatement()) {
                require(
                        JournalSchema.text(statement, "PRAGMA integrity_check").equals("ok"),
                        how,
                        number,
                        "the journal is damaged");
            }
            try (Journal journal = new Journal(JournalSettings.defaults(file), clock, clock)) {
                journal.agentStarted(io.evenwarm.agent.Snapshots.moment(0), "looked at");
                journal.step(clock.advanceSeconds(1));
                long sequence = 0;
                long readings = 0;
                for (JournalRecord each : JournalTest.all(journal)) {
                    require(each.sequence() == ++sequence, how, number, "numbers have a gap");
                    if (each instanceof Readings) {
                        readings++;
                    }
                }
                require(
                        readings == seconds,
                        how,
                        number,
                        readings + " readings of " + seconds + " s");
            }
            Latch latch = latches.load(Plans.NORTH);
            // One whose saving was told to have failed may be there all the same.
            boolean isKept = saved == 0;
            for (long tick = saved; tick > 0 && tick <= TICKS; tick += TICKS_A_LATCH) {
                isKept |= latch.equals(new Latch.Tripped("at " + tick));
            }
            require(isKept, how, number, "the latch is " + latch + ", saved was " + saved);
        }
    }
}
