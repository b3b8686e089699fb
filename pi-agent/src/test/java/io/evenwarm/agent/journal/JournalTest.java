package io.evenwarm.agent.journal;

import static io.evenwarm.agent.Snapshots.finding;
import static io.evenwarm.agent.Snapshots.healthy;
import static io.evenwarm.agent.Snapshots.with;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.HandClock;
import io.evenwarm.agent.Snapshots;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.JournalRecord.Event;
import io.evenwarm.message.JournalRecord.Readings;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

final class JournalTest {

    @TempDir Path folder;

    private final HandClock clock = new HandClock();
    private long tick;

    private JournalSettings settings() {
        return JournalSettings.defaults(folder.resolve("journal.sqlite"));
    }

    private Journal open(JournalSettings settings) {
        return new Journal(settings, clock, clock);
    }

    private void run(Journal journal, int seconds) {
        for (int i = 0; i < seconds; i++) {
            tick++;
            journal.published(healthy("north", tick, tick % 2 == 0));
            journal.step(clock.advanceSeconds(1));
        }
    }

    static List<JournalRecord> all(Journal journal) throws IOException {
        List<JournalRecord> records = new ArrayList<>();
        try (JournalReader reader = journal.openReader()) {
            long last = 0;
            while (true) {
                List<JournalRecord> more = reader.after(last, 50).records();
                if (more.isEmpty()) {
                    return records;
                }
                records.addAll(more);
                last = more.get(more.size() - 1).sequence();
            }
        }
    }

    static void assertNumberedFromOne(List<JournalRecord> records) {
        assertEquals(1, records.get(0).sequence(), "the first number");
        assertNumberedWithoutAGap(records);
    }

    static void assertNumberedWithoutAGap(List<JournalRecord> records) {
        long next = records.get(0).sequence();
        for (JournalRecord each : records) {
            assertEquals(next++, each.sequence());
        }
    }

    /** Nothing between the first and the last reading is missing. */
    static void assertOneReadingEvery(long seconds, List<JournalRecord> records) {
        List<Long> at =
                records.stream()
                        .filter(Readings.class::isInstance)
                        .map(each -> each.moment().monotonicNanos() / 1_000_000_000L)
                        .toList();
        for (int i = 1; i < at.size(); i++) {
            assertEquals(at.get(i - 1) + seconds, at.get(i), "at reading " + i);
        }
    }

    @Test
    void whatWasJournalledIsReadBackByAReaderAndAfterAReopening() throws IOException {
        List<JournalRecord> before;
        try (Journal journal = open(settings())) {
            journal.agentStarted(Snapshots.moment(0), "agent started");
            run(journal, 60);
            before = all(journal);
            assertTrue(
                    before.get(0) instanceof Event start
                            && start.kind() == Event.Kind.AGENT_STARTED
                            && start.moment().equals(Snapshots.moment(0)));
            assertEquals(12, before.size(), "the start, and readings at 1, 6 ... 51 s");
            assertNumberedFromOne(before);
            Readings second = (Readings) before.get(2);
            assertEquals(healthy("north", 6, true).probes(), second.probes());
            assertEquals(Snapshots.moment(6), second.moment());
            journal.agentStopped(Snapshots.moment(61), "agent stopped");
        }
        try (Journal journal = open(settings())) {
            journal.agentStarted(Snapshots.moment(62), "agent started");
            journal.step(clock.advanceSeconds(1));
            List<JournalRecord> after = all(journal);
            assertNumberedFromOne(after);
            assertEquals(before, after.subList(0, before.size()));
            assertEquals(15, after.size());
        }
    }

    @Test
    void readingsWaitForTheCommitTimeAndEventsDoNot() throws IOException {
        try (Journal journal = open(settings())) {
            run(journal, 9);
            assertEquals(0, journal.lastCommittedSequence());
            run(journal, 1);
            assertEquals(2, journal.lastCommittedSequence());
            tick++;
            journal.published(
                    with(healthy("north", tick, false), List.of(finding(FindingCode.BLIND, tick))));
            journal.step(clock.advanceSeconds(1));
            List<JournalRecord> records = all(journal);
            assertEquals(4, records.size());
            assertEquals(
                    Event.Kind.FINDING_RAISED,
                    records.stream()
                            .filter(Event.class::isInstance)
                            .map(each -> ((Event) each).kind())
                            .findFirst()
                            .orElseThrow());
        }
    }

    @Test
    void aReaderNeverSeesWhatIsNotCommitted() throws IOException {
        try (Journal journal = open(settings());
                JournalReader reader = journal.openReader()) {
            assertThrows(IOException.class, () -> reader.after(0, 10), "no file is open yet");
            run(journal, 10);
            assertEquals(2, reader.after(0, 10).records().size());
            run(journal, 6);
            assertEquals(2, reader.after(0, 10).records().size(), "two more wait in memory");
        }
    }

    @Test
    void everyCommitIsTold() {
        AtomicInteger told = new AtomicInteger();
        try (Journal journal = open(settings())) {
            JournalFeed.Subscription subscription = journal.subscribe(told::incrementAndGet);
            run(journal, 30);
            assertEquals(3, told.get());
            subscription.close();
            run(journal, 30);
            assertEquals(3, told.get());
        }
    }

    @Test
    void aWriterThatHangsNeverStopsTheControlThreadAndTheOldestSnapshotsGo() throws IOException {
        try (Journal journal = open(settings())) {
            // Nobody steps the journal: its queue overflows.
            for (long i = 1; i <= Journal.MAX_QUEUED + 100; i++) {
                journal.published(healthy("north", i, false));
            }
            assertEquals(100, journal.lostItems());
            journal.step(clock.advanceSeconds(10));
            Readings first = (Readings) all(journal).get(0);
            assertEquals(Snapshots.moment(101), first.moment(), "the oldest 100 went");
        }
    }

    @Test
    void aJournalThatWasTakenAwayIsBegunAnew() throws IOException {
        try (Journal journal = open(settings());
                JournalReader reader = journal.openReader()) {
            run(journal, 10);
            String firstName = reader.after(0, 10).journal();
            Files.delete(settings().file());
            run(journal, 10);
            JournalSlice slice = reader.after(0, 10);
            assertFalse(slice.journal().equals(firstName), "another journal has another name");
            assertNumberedFromOne(slice.records());
        }
    }

    @Test
    void theOldestRecordsGoWhenTheirTimeIsOverAndTheNumbersGoOn() throws IOException {
        JournalSettings oneDay = new JournalSettings(settings().file(), 5, 10, 1, 2_000_000_000L);
        try (Journal journal = open(oneDay)) {
            run(journal, 100);
            clock.advanceSeconds(86_400 + 50);
            tick += 86_400 + 50;
            run(journal, 20);
            List<JournalRecord> kept = all(journal);
            assertTrue(kept.get(0).sequence() > 5, "first kept: " + kept.get(0).sequence());
            assertEquals(journal.lastCommittedSequence(), kept.get(kept.size() - 1).sequence());
            assertTrue(journal.lastCommittedSequence() > 20, "the numbers go on");
        }
    }

    @Test
    void theFileStaysBelowItsSizeAndKeepsTheNewest() throws IOException {
        long maximumBytes = 128 * 1024;
        JournalSettings small = new JournalSettings(settings().file(), 1, 60, 400, maximumBytes);
        try (Journal journal = open(small)) {
            run(journal, 9000);
            assertTrue(
                    Files.size(small.file()) <= maximumBytes, "size " + Files.size(small.file()));
            List<JournalRecord> kept = all(journal);
            long newest = kept.get(kept.size() - 1).sequence();
            assertEquals(journal.lastCommittedSequence(), newest);
            assertEquals(
                    newest - kept.get(0).sequence() + 1, kept.size(), "what is kept has no gap");
        }
    }
}
