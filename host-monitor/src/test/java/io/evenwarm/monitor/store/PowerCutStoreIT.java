package io.evenwarm.monitor.store;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.AgentName;
import io.evenwarm.monitor.Journal;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.Curve;
import io.evenwarm.monitor.history.ProbeCurve;
import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.testing.FileLayer;
import java.io.BufferedReader;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Instant;
import java.util.List;
import java.util.Random;
import java.util.stream.Stream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;

/**
 * The power fails under a process that stores batches again and again, on the same folder: every
 * write since a file's last sync is lost, kept or torn. What it acknowledged must be there, once,
 * in order; the agent has the rest, and sends it again.
 */
@Tag("long")
@Execution(ExecutionMode.CONCURRENT)
final class PowerCutStoreIT {

    /** {@code .ci/evidence kept-1} asks for more. */
    private static final int CUTS = Integer.getInteger("power.cuts", 25);

    private static final long SEED = Long.getLong("power.seed", 8);
    private static final int MOST_CALLS = 1500;
    private static final AgentName AGENT = new AgentName("egg room");
    private static final String STORED = "stored ";
    private static final String END = " .";

    /** Then another folder: all of it is read after each cut. */
    private static final int CUTS_A_FOLDER = 25;

    private static final int BATCHES_A_REOPENING = 40;

    /** A stretch of time that is read in full, whatever tiers there are for longer ones. */
    private static final long READ_AT_ONCE = 500;

    @TempDir Path temporary;

    @Test
    void whatWasAcknowledgedSurvivesPowerCutsOnceAndInOrder()
            throws IOException, InterruptedException, SQLException {
        FileLayer layer = FileLayer.compile(temporary);
        Path folder = temporary;
        Random random = new Random(SEED);
        long acknowledged = 0;
        long stored = 0;
        long records = 0;
        for (int cut = 1; cut <= CUTS; cut++) {
            String where = "seed " + SEED + ", cut " + cut;
            if (cut % CUTS_A_FOLDER == 1) {
                folder = Files.createDirectory(temporary.resolve("data" + cut));
                records += stored;
                acknowledged = 0;
            }
            long before = acknowledged;
            acknowledged =
                    Math.max(
                            before,
                            runUntilPowerCut(
                                    layer,
                                    folder,
                                    new FileLayer.Cut(
                                            1 + random.nextInt(MOST_CALLS), random.nextLong()),
                                    where));
            stored = check(copy(folder, temporary.resolve("image")), acknowledged, where);
            acknowledged = stored;
        }
        System.out.println(
                "kept-1 monitor: "
                        + CUTS
                        + " power cuts, seed "
                        + SEED
                        + ": "
                        + (records + stored)
                        + " records; acknowledged lost 0, doubled 0, out of order 0");
    }

    private static long runUntilPowerCut(
            FileLayer layer, Path folder, FileLayer.Cut cut, String where)
            throws IOException, InterruptedException {
        Process process =
                layer.javaUntilPowerCut(
                                folder,
                                HistoryStore.FILE_NAME,
                                PowerCutStoreIT.class,
                                List.of(folder.toRealPath().toString()),
                                cut)
                        .start();
        long acknowledged = 0;
        try (BufferedReader lines = process.inputReader(StandardCharsets.UTF_8)) {
            for (String line = lines.readLine(); line != null; line = lines.readLine()) {
                // One that was cut short does not count.
                if (line.startsWith(STORED) && line.endsWith(END)) {
                    acknowledged =
                            Long.parseLong(
                                    line.substring(STORED.length(), line.length() - END.length()));
                }
            }
        }
        assertEquals(137, process.waitFor(), where + ": ended by SIGKILL: 128 + 9");
        return acknowledged;
    }

    /** A copy is looked at, so that the next process itself recovers, under the layer. */
    private static Path copy(Path folder, Path to) throws IOException {
        Files.createDirectories(to);
        try (Stream<Path> old = Files.list(to)) {
            for (Path each : old.toList()) {
                Files.delete(each);
            }
        }
        try (Stream<Path> all = Files.list(folder)) {
            for (Path each : all.toList()) {
                Files.copy(each, to.resolve(each.getFileName()));
            }
        }
        return to;
    }

    private static long check(Path image, long acknowledged, String where)
            throws StoreException, SQLException {
        try (Connection connection =
                        DriverManager.getConnection(
                                "jdbc:sqlite:" + image.resolve(HistoryStore.FILE_NAME));
                Statement statement = connection.createStatement();
                ResultSet rows = statement.executeQuery("PRAGMA integrity_check")) {
            assertTrue(rows.next());
            assertEquals("ok", rows.getString(1), where);
        }
        try (HistoryStore store = HistoryStore.open(image)) {
            long stored = store.lastSequence(AGENT, "j1");
            assertTrue(
                    stored >= acknowledged,
                    where + ": " + acknowledged + " acknowledged but " + stored + " stored");
            for (long from = 1; from <= stored; from += READ_AT_ONCE) {
                checkStretch(store, from, Math.min(stored, from + READ_AT_ONCE - 1), where);
            }
            return stored;
        }
    }

    private static void checkStretch(HistoryStore store, long from, long to, String where) {
        Instant begin = Journal.at(5.0 * from);
        List<ProbeCurve> probes =
                store.curves(
                                new CabinetKey(AGENT, Journal.NORTH),
                                new TimeSpan(begin, Journal.at(5.0 * to + 1)))
                        .probes();
        assertEquals(1, probes.size(), where);
        Curve curve = probes.get(0).curve();
        assertEquals(to - from + 1, curve.size(), where);
        for (int i = 0; i < curve.size(); i++) {
            assertEquals(Journal.at(5.0 * (from + i)).toEpochMilli(), curve.epochMillis(i), where);
            assertEquals(value(from + i), curve.value(i), where);
        }
    }

    private static double value(long sequence) {
        return 30 + sequence % 32 / 16.0;
    }

    /** The process: stores batches for ever, and says each sequence number once it is stored. */
    public static void main(String[] arguments) throws IOException {
        Path folder = Path.of(arguments[0]);
        while (true) {
            // Closed in order now and then: that empties the write-ahead log and removes it.
            try (HistoryStore store = HistoryStore.open(folder)) {
                long last = store.lastSequence(AGENT, "j1");
                Journal journal = new Journal().afterSequence(last);
                for (int batch = 0; batch < BATCHES_A_REOPENING; batch++) {
                    int size = 1 + (int) (last % 16);
                    for (int i = 0; i < size; i++) {
                        last++;
                        journal.top(5.0 * last, value(last));
                    }
                    store.append(AGENT, "j1", journal.take());
                    System.out.println(STORED + last + END);
                }
            }
        }
    }
}
