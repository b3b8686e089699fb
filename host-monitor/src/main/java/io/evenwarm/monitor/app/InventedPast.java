package io.evenwarm.monitor.app;

import io.evenwarm.codec.MessageCodec;
import io.evenwarm.frame.FrameReader;
import io.evenwarm.message.AgentName;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.Message;
import io.evenwarm.monitor.alarm.DeskState;
import io.evenwarm.monitor.alarm.Now;
import io.evenwarm.monitor.store.HistoryStore;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;

/**
 * The invented past of the demo's cabinets: made up by the agent's program in a process of its own,
 * stored as what the agent's journal held before, with the alarms that it would have given.
 *
 * <p>Used by one thread; {@link #stop} may come from any.
 */
final class InventedPast {

    private static final System.Logger LOG = System.getLogger(InventedPast.class.getName());
    private static final String JOURNAL = "invented past";

    /** Of changes and of events: so many are kept free for the past, before those of today. */
    private static final long NUMBERS_KEPT_FREE = 100_000;

    private static final int RECORDS_AT_ONCE = 4096;
    private static final int CHUNK_OCTETS = 1 << 16;

    private final HistoryStore store;
    private final AgentName agent;
    private final MessageCodec codec = new MessageCodec();
    private final List<JournalRecord> records = new ArrayList<>();
    private final PastAlarms alarms;
    private boolean isWhole;

    // Guarded by this.
    private boolean isStopped;
    private List<Process> running = List.of();

    /**
     * Makes room for a past; to be called before anything else is stored.
     *
     * @throws IOException when the store can't be written
     */
    InventedPast(HistoryStore store, AgentName agent, Instant now) throws IOException {
        this.store = store;
        this.agent = agent;
        this.alarms = new PastAlarms(agent, store.alarms());
        store.append(agent, JOURNAL, List.of());
        store.alarms()
                .keep(
                        List.of(),
                        new DeskState(
                                new Now(now, 0),
                                NUMBERS_KEPT_FREE,
                                NUMBERS_KEPT_FREE,
                                List.of(),
                                List.of(),
                                List.of(),
                                List.of(),
                                List.of()));
    }

    /**
     * Lets it be made and stores it; takes half a minute or less.
     *
     * @param program the agent's start script
     * @param configuration the agent's, of the demo
     * @param until when it ends
     * @param log gets what the program writes to standard error
     * @throws IOException when it could not be made or stored; what is stored by then stays
     */
    void tell(Path program, Path configuration, int days, Instant until, Path log)
            throws IOException {
        ProcessBuilder builder =
                new ProcessBuilder(
                        program.toString(),
                        "past",
                        "--config",
                        configuration.toString(),
                        "--days",
                        Integer.toString(days),
                        "--until",
                        until.toString());
        builder.redirectError(log.toFile());
        Process process;
        synchronized (this) {
            if (isStopped) {
                return;
            }
            process = builder.start();
            running = List.of(process);
        }
        try (InputStream octets = process.getInputStream()) {
            read(octets);
        } finally {
            process.destroy();
        }
        store();
        alarms.store();
        store.endEarlier(agent, JOURNAL);
        if (!isWhole) {
            throw new IOException("the agent's program ended before the past was told");
        }
    }

    private void read(InputStream octets) throws IOException {
        FrameReader frames = new FrameReader();
        byte[] chunk = new byte[CHUNK_OCTETS];
        List<byte[]> payloads = new ArrayList<>();
        for (int length = octets.read(chunk); length >= 0; length = octets.read(chunk)) {
            frames.feed(chunk, 0, length, payloads::add);
            for (byte[] payload : payloads) {
                take(payload);
            }
            payloads.clear();
        }
    }

    private void take(byte[] payload) throws IOException {
        Message message =
                codec.decode(payload)
                        .value()
                        .orElseThrow(
                                () -> new IOException("the past has a message of another form"));
        if (message instanceof Message.HistoryBatch batch) {
            records.addAll(batch.records());
            if (records.size() >= RECORDS_AT_ONCE) {
                store();
            }
        } else if (message instanceof Message.Time time) {
            alarms.reach(time.moment());
        } else if (message instanceof Message.Live live) {
            alarms.see(live.snapshot());
        } else {
            isWhole = message instanceof Message.Goodbye;
        }
    }

    private void store() throws IOException {
        store.appendEarlier(agent, JOURNAL, records);
        LOG.log(System.Logger.Level.DEBUG, "{0} entries of the past stored", records.size());
        records.clear();
    }

    /** Whatever is under way ends. */
    synchronized void stop() {
        isStopped = true;
        running.forEach(Process::destroyForcibly);
    }
}
