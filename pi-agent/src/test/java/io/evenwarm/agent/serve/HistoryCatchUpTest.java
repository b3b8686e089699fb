package io.evenwarm.agent.serve;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.clock.SystemClock;
import io.evenwarm.link.Link;
import io.evenwarm.link.LinkException;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.Message;
import io.evenwarm.message.Message.Hello;
import io.evenwarm.testing.MemoryListener;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A monitor whose link breaks again and again while the journal grows. */
final class HistoryCatchUpTest {

    private static final Duration PATIENCE = Duration.ofSeconds(20);

    @TempDir Path folder;

    @Test
    void afterAnyBreaksTheHistoryIsCompleteInOrderAndOnce() throws IOException {
        for (long seed = 1; seed <= 3; seed++) {
            Random random = new Random(seed);
            Path here = Files.createDirectory(folder.resolve("seed" + seed));
            try (AgentRig agent = new AgentRig(here, SystemClock.monotonic())) {
                MemoryListener listener = new MemoryListener();
                agent.server().listen("memory", () -> listener, MonitorServer.MAX_MONITORS);
                List<JournalRecord> stored = new ArrayList<>();
                for (int link = 0; link < 12; link++) {
                    agent.journalTicks(50 + random.nextInt(400));
                    receiveSome(listener.connect(), stored, random.nextInt(8), random);
                }
                receiveUpTo(listener.connect(), stored, agent.journal().lastCommittedSequence());
                assertComplete(agent, stored, "seed " + seed);
            }
        }
    }

    /** Takes a few batches, then breaks the link at any point: before or after storing. */
    private static void receiveSome(
            Link link, List<JournalRecord> stored, int batches, Random random)
            throws LinkException {
        greetAndAsk(link, stored);
        for (int i = 0; i < batches; i++) {
            Optional<Message.HistoryBatch> batch = nextBatch(link);
            if (batch.isEmpty() || random.nextInt(4) == 0) {
                break;
            }
            store(stored, batch.get());
            if (random.nextInt(4) == 0) {
                break;
            }
            link.send(new Message.Acknowledge(last(stored)));
        }
        link.close();
    }

    private static void receiveUpTo(Link link, List<JournalRecord> stored, long sequence)
            throws LinkException {
        greetAndAsk(link, stored);
        while (last(stored) < sequence) {
            store(stored, nextBatch(link).orElseThrow());
            link.send(new Message.Acknowledge(last(stored)));
        }
        link.close();
    }

    private static void greetAndAsk(Link link, List<JournalRecord> stored) throws LinkException {
        link.send(new Hello(List.of(1), Hello.Side.MONITOR, "desk", "test monitor", 1));
        link.send(new Message.HistoryRequest(last(stored)));
    }

    /** The next batch with something in it; empty when only an empty answer came. */
    private static Optional<Message.HistoryBatch> nextBatch(Link link) throws LinkException {
        while (true) {
            Message message =
                    link.receive(PATIENCE).orElseThrow(() -> new AssertionError("nothing came"));
            if (message instanceof Message.HistoryBatch batch) {
                return batch.records().isEmpty() ? Optional.empty() : Optional.of(batch);
            }
        }
    }

    private static void store(List<JournalRecord> stored, Message.HistoryBatch batch) {
        for (JournalRecord each : batch.records()) {
            assertEquals(last(stored) + 1, each.sequence(), "sent in order and once");
            stored.add(each);
        }
    }

    private static long last(List<JournalRecord> stored) {
        return stored.isEmpty() ? 0 : stored.get(stored.size() - 1).sequence();
    }

    private static void assertComplete(AgentRig agent, List<JournalRecord> stored, String seed)
            throws IOException {
        assertTrue(stored.size() > 500, seed + ": only " + stored.size() + " records");
        try (var reader = agent.journal().openReader()) {
            assertEquals(reader.after(0, stored.size() + 1).records(), stored, seed);
        }
    }
}
