package io.evenwarm.agent.journal;

import io.evenwarm.agent.HandClock;
import io.evenwarm.agent.Snapshots;
import io.evenwarm.agent.durable.FileLatchStore;
import io.evenwarm.agent.port.Latch;
import io.evenwarm.agent.port.LatchStore;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.FindingCode;
import java.io.IOException;
import java.nio.file.Path;
import java.util.List;

/**
 * Keeps a journal and a latch as the agent does, a virtual second after the other, until the power
 * fails: a program of its own for {@link PowerCutIT}. It says on standard output what it made, and
 * what it was told is kept.
 */
final class PowerCutProcess {

    static final String JOURNAL = "journal.sqlite";
    static final String MADE = "made ";
    static final String COMMITTED = "committed ";
    static final String LATCHING = "latching ";
    static final String LATCHED = "latched ";
    static final String TROUBLE = "trouble ";

    /** Ends each line: one that was cut short does not count. */
    static final String END = " .";

    private static final int TICKS_A_LATCH = 5;
    private static final int TICKS_A_FINDING = 17;
    private static final int TICKS_A_REOPENING = 45;

    private PowerCutProcess() {}

    public static void main(String[] arguments) throws IOException {
        Path folder = Path.of(arguments[0]);
        long tick = Long.parseLong(arguments[1]);
        LatchStore latches = new FileLatchStore(folder);
        HandClock clock = new HandClock();
        while (true) {
            // Closed in order now and then: that empties the write-ahead log and removes it.
            try (Journal journal = new Journal(settings(folder), clock, clock)) {
                journal.subscribe(() -> say(COMMITTED + journal.lastCommittedSequence()));
                do {
                    tick++;
                    say(MADE + tick);
                    journal.published(numbered(tick));
                    journal.step(clock.advanceSeconds(1));
                    journal.health().trouble().ifPresent(words -> say(TROUBLE + words));
                    if (tick % TICKS_A_LATCH == 0) {
                        say(LATCHING + tick);
                        latches.save(Snapshots.cabinet("north"), latch(tick));
                        say(LATCHED + tick);
                    }
                } while (tick % TICKS_A_REOPENING != 0);
            }
        }
    }

    /** Every second a reading, committed every ten: as configured, but for the readings' pace. */
    static JournalSettings settings(Path folder) {
        return new JournalSettings(folder.resolve(JOURNAL), 1, 10, 400, 2_000_000_000L);
    }

    static Latch latch(long tick) {
        return new Latch.Tripped("at tick " + tick);
    }

    private static void say(String line) {
        System.out.println(line + END);
    }

    /** A snapshot that tells its number by its monotonic time; some raise a finding. */
    private static CabinetSnapshot numbered(long tick) {
        CabinetSnapshot healthy = Snapshots.healthy("north", tick, tick % 2 == 0);
        return tick % TICKS_A_FINDING == 0
                ? Snapshots.with(healthy, List.of(Snapshots.finding(FindingCode.TOO_WARM, tick)))
                : healthy;
    }
}
