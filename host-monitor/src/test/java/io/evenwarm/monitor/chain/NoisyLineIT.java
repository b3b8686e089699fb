package io.evenwarm.monitor.chain;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.journal.JournalFeed;
import io.evenwarm.agent.journal.JournalReader;
import io.evenwarm.agent.journal.JournalSlice;
import io.evenwarm.agent.serve.MonitorServer;
import io.evenwarm.agent.serve.RunState;
import io.evenwarm.agent.serve.ServeContext;
import io.evenwarm.agent.serve.SnapshotBoard;
import io.evenwarm.clock.SystemClock;
import io.evenwarm.message.AgentName;
import io.evenwarm.message.BootId;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.Moment;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.ProbeSensor;
import io.evenwarm.monitor.Journal;
import io.evenwarm.monitor.history.HistoryWriter;
import io.evenwarm.monitor.history.JournalPosition;
import io.evenwarm.monitor.intake.AgentAddress;
import io.evenwarm.monitor.intake.Intake;
import io.evenwarm.monitor.intake.IntakeContext;
import io.evenwarm.monitor.live.LiveModel;
import io.evenwarm.testing.Waiting;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.UUID;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * A whole agent's sessions and a whole monitor's intake, with a line between them on which one bit
 * in 10,000 is wrong: half the frames of a single record are damaged, and none of a usual batch
 * would ever arrive whole.
 */
@Tag("long")
final class NoisyLineIT {

    private static final AgentName AGENT = new AgentName("egg room");
    private static final double BIT_ERROR_RATE = 1e-4;
    private static final long SEED = 17;
    private static final int RECORDS = 500;
    private static final int SECONDS_MAX = 240;

    /** A journal that was written before. */
    private static final class Written implements JournalFeed {
        private final List<JournalRecord> records;

        Written() {
            Journal journal = new Journal();
            for (int i = 0; i < RECORDS; i++) {
                journal.readings(
                        i * 5.0,
                        Journal.good("top", ProbePlace.TOP, 31.5),
                        Journal.good("bottom", ProbePlace.BOTTOM, 31.25));
            }
            records = journal.take();
        }

        @Override
        public JournalReader openReader() {
            return new JournalReader() {
                @Override
                public JournalSlice after(long sequence, int max) {
                    return new JournalSlice(
                            "j1",
                            records.stream()
                                    .filter(each -> each.sequence() > sequence)
                                    .limit(max)
                                    .toList());
                }

                @Override
                public void close() {}
            };
        }

        @Override
        public Subscription subscribe(Runnable onCommit) {
            return () -> {};
        }
    }

    /** Keeps what comes, and each number only once and in order. */
    private static final class Kept implements HistoryWriter {
        private final List<JournalRecord> records = new ArrayList<>();

        @Override
        public void sensors(AgentName agent, List<ProbeSensor> sensors, Instant now) {}

        @Override
        public synchronized long lastSequence(AgentName agent, String journal) {
            return records.isEmpty() ? 0 : records.get(records.size() - 1).sequence();
        }

        @Override
        public synchronized Optional<JournalPosition> newestJournal(AgentName agent) {
            return records.isEmpty()
                    ? Optional.empty()
                    : Optional.of(new JournalPosition("j1", lastSequence(agent, "j1")));
        }

        @Override
        public synchronized void append(AgentName agent, String journal, List<JournalRecord> more) {
            for (JournalRecord each : more) {
                if (each.sequence() > lastSequence(agent, journal)) {
                    records.add(each);
                }
            }
        }

        synchronized List<JournalRecord> all() {
            return List.copyOf(records);
        }
    }

    @Test
    void aLineWithOneWrongBitInTenThousandStillDeliversTheWholeHistory(@TempDir Path folder)
            throws IOException {
        Written written = new Written();
        Kept kept = new Kept();
        LiveModel live = new LiveModel(SystemClock.monotonic(), List.of(AGENT));
        Moment now = new Moment(new BootId(new UUID(1, 1)), 0, Instant.EPOCH, false);
        ServeContext context =
                new ServeContext(
                        AGENT,
                        "test",
                        1,
                        () -> now,
                        new SnapshotBoard(List.of()),
                        written,
                        (command, answer) -> {},
                        SystemClock.monotonic(),
                        List::of,
                        RunState.NONE);
        long begin = SystemClock.monotonic().nanos();
        try (NoisyCable cable = new NoisyCable(folder, BIT_ERROR_RATE, SEED);
                MonitorServer server = new MonitorServer(context)) {
            server.serveLine("line", cable::openLeft);
            Intake intake =
                    Intake.start(
                            new IntakeContext(
                                    "desk", "test", kept, live, SystemClock.monotonic(), SEED),
                            List.of(new AgentAddress(AGENT, "line", cable::openRight)));
            try {
                Waiting.until(
                        SECONDS_MAX,
                        () -> kept.all().size() == RECORDS,
                        () -> kept.all().size() + " of " + RECORDS + "; " + live.agents());
            } finally {
                intake.close();
            }
            System.out.printf(
                    Locale.ROOT,
                    "kept-3 noisy line: %d of %d records in order and once in %.0f s, %,d bits"
                            + " passed, %,d of them wrong%n",
                    kept.all().size(),
                    RECORDS,
                    (SystemClock.monotonic().nanos() - begin) / 1e9,
                    cable.bits(),
                    cable.errors());
            assertEquals(written.records, kept.all());
            double rate = cable.errors() / (double) cable.bits();
            assertTrue(rate > 0.8e-4 && rate < 1.2e-4, "error rate " + rate);
        }
    }
}
