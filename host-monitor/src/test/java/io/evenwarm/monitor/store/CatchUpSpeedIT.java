package io.evenwarm.monitor.store;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.SystemClock;
import io.evenwarm.message.BootId;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.monitor.Journal;
import io.evenwarm.monitor.history.CabinetKey;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.UUID;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Stores days of 24 probes at one reading each 5 s as they come when a monitor was away, in batches
 * of a link's size, beside a bare loop that inserts the same rows with the same settings and the
 * same commits, and no tiers. {@code -Dstore.days=7} for the whole of it.
 */
@Tag("long")
final class CatchUpSpeedIT {

    private static final double DAYS = Double.parseDouble(System.getProperty("store.days", "0.5"));

    /** As many as an agent sends at once. */
    private static final int RECORDS_IN_BATCH = 64;

    /** Each goes in turns, so that what else the machine does meets both. */
    private static final int TURN_BATCHES = 100;

    private final MonotonicClock clock = SystemClock.monotonic();

    @Test
    void catchingUpIsAtLeastHalfAsFastAsBareInserts(@TempDir Path folder)
            throws IOException, SQLException {
        int records = BigStore.CABINETS.size() * (int) Math.round(DAYS * 86_400 / 5);
        Path bareFolder = Files.createDirectory(folder.resolve("bare"));
        HistoryStore.open(bareFolder).close();
        long ours = 0;
        long bare = 0;
        Journal journal = new Journal();
        List<List<JournalRecord>> turn = new ArrayList<>();
        try (HistoryStore store = HistoryStore.open(folder);
                Bare loop = new Bare(bareFolder)) {
            for (int record = 0; record < records; record++) {
                write(journal, record);
                boolean isLast = record == records - 1;
                if (record % RECORDS_IN_BATCH == RECORDS_IN_BATCH - 1 || isLast) {
                    turn.add(journal.take());
                }
                if (turn.size() == TURN_BATCHES || isLast) {
                    long begin = clock.nanos();
                    for (List<JournalRecord> batch : turn) {
                        store.append(BigStore.AGENT, "j", batch);
                    }
                    long between = clock.nanos();
                    for (List<JournalRecord> batch : turn) {
                        loop.append(batch);
                    }
                    ours += between - begin;
                    bare += clock.nanos() - between;
                    turn.clear();
                }
            }
            assertEquals(records, store.lastSequence(BigStore.AGENT, "j"));
        }
        double readings = (double) records * BigStore.PROBES;
        System.out.printf(
                Locale.ROOT,
                "catch-up of %.1f days, 24 probes, 5 s: %,.0f readings at %,.0f a second; bare"
                        + " inserts of the same rows %,.0f a second; %.2f of the bare rate%n",
                DAYS,
                readings,
                readings / ours * 1e9,
                readings / bare * 1e9,
                (double) bare / ours);
        assertTrue(2 * bare >= ours, "less than half of the bare rate");
    }

    private static void write(Journal journal, int record) {
        CabinetKey key = BigStore.CABINETS.get(record % BigStore.CABINETS.size());
        CabinetName cabinet = key.cabinet();
        int step = record / BigStore.CABINETS.size();
        ProbeReading[] probes = new ProbeReading[BigStore.PROBES];
        for (int probe = 0; probe < probes.length; probe++) {
            probes[probe] =
                    Journal.good(
                            "probe " + probe,
                            ProbePlace.of("place " + probe),
                            BigStore.celsius(probe, step));
        }
        journal.readings(5.0 * step, cabinet, 0.25, probes);
    }

    /** Knows nothing of names, clocks or tiers: numbers go straight into the two tables. */
    private static final class Bare implements AutoCloseable {

        private final Connection connection;
        private final PreparedStatement record;
        private final PreparedStatement reading;

        Bare(Path folder) throws SQLException {
            connection = Connections.openForWriting(folder.resolve(HistoryStore.FILE_NAME));
            Connections.makeDurable(connection);
            Ids ids = new Ids(connection);
            long agent = ids.agent("bare");
            long journal = ids.journal(agent, "j");
            ids.word("ALLOWING");
            ids.limits(Journal.LIMITS);
            ids.addBoot(agent, new BootId(new UUID(1, 1)));
            for (int cabinet = 0; cabinet < BigStore.CABINETS.size(); cabinet++) {
                long id = ids.cabinet(agent, "cabinet " + cabinet);
                for (int probe = 0; probe < BigStore.PROBES; probe++) {
                    ids.probe(id, "probe " + probe, "place", Ids.CELSIUS);
                }
            }
            assertEquals(1, journal);
            record =
                    connection.prepareStatement(
                            "INSERT INTO record VALUES (?, ?, 1, ?, 1, ?, 0, ?, ?, ?, 1, 1)");
            reading =
                    connection.prepareStatement("INSERT INTO reading VALUES (?, ?, 1, ?, ?, NULL)");
        }

        void append(List<JournalRecord> batch) throws SQLException {
            connection.setAutoCommit(false);
            for (JournalRecord each : batch) {
                JournalRecord.Readings readings = (JournalRecord.Readings) each;
                long cabinet = (each.sequence() - 1) % BigStore.CABINETS.size();
                long time = each.moment().wall().toEpochMilli();
                record.setLong(1, cabinet + 1);
                record.setLong(2, time);
                record.setLong(3, each.sequence());
                record.setLong(4, each.moment().monotonicNanos() / 1_000_000);
                record.setDouble(5, readings.setPoint().celsius());
                record.setDouble(6, readings.duty().fraction());
                record.setDouble(7, readings.heaterOnFraction());
                record.addBatch();
                for (int probe = 0; probe < readings.probes().size(); probe++) {
                    reading.setLong(1, cabinet * BigStore.PROBES + probe + 1);
                    reading.setLong(2, time);
                    reading.setLong(3, each.sequence());
                    reading.setDouble(
                            4,
                            readings.probes()
                                    .get(probe)
                                    .reading()
                                    .quantity()
                                    .orElseThrow()
                                    .fold(t -> (Double) t.celsius(), h -> (Double) h.percent()));
                    reading.addBatch();
                }
            }
            record.executeBatch();
            reading.executeBatch();
            connection.commit();
            connection.setAutoCommit(true);
        }

        @Override
        public void close() throws SQLException {
            connection.close();
        }
    }
}
