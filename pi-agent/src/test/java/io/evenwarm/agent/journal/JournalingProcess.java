package io.evenwarm.agent.journal;

import io.evenwarm.agent.HandClock;
import io.evenwarm.agent.Snapshots;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Moment;
import java.nio.file.Path;

/**
 * Journals as fast as it can until it is killed, and says on standard output what is committed: a
 * program of its own for {@link KilledJournalIT}.
 */
final class JournalingProcess {

    private JournalingProcess() {}

    public static void main(String[] arguments) {
        Path file = Path.of(arguments[0]);
        long firstTick = Long.parseLong(arguments[1]);
        HandClock clock = new HandClock();
        JournalSettings settings = new JournalSettings(file, 1, 1, 400, 2_000_000_000L);
        Journal journal = new Journal(settings, clock, clock);
        journal.subscribe(() -> System.out.println(journal.lastCommittedSequence()));
        for (long tick = firstTick; ; tick++) {
            journal.published(numbered(tick));
            journal.step(clock.advanceSeconds(1));
            journal.health().trouble().ifPresent(System.err::println);
        }
    }

    /** A snapshot that tells its number by its monotonic time. */
    private static CabinetSnapshot numbered(long tick) {
        return Snapshots.healthy("north", tick, tick % 2 == 0);
    }

    /** The number that {@link #numbered} gave. */
    static long tickOf(Moment moment) {
        return moment.monotonicNanos() / 1_000_000_000L;
    }
}
