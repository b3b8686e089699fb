package io.evenwarm.monitor.store;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.AgentName;
import io.evenwarm.monitor.Journal;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.Curve;
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
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * A writer in a process of its own is killed (SIGKILL) again and again: what it had acknowledged is
 * there, once, and the folder is free. This shows a killed process, not a power cut.
 */
@Tag("long")
final class KilledWriterIT {

    private static final AgentName AGENT = new AgentName("egg room");

    /** {@code .ci/evidence kept-1} asks for more. */
    private static final int KILLS = Integer.getInteger("power.cuts", 4);

    /** Then another folder: all of it is read after each kill. */
    private static final int KILLS_A_FOLDER = 25;

    @Test
    void nothingAcknowledgedIsLostOrDoubledWhenTheWriterIsKilled(@TempDir Path temporary)
            throws IOException, InterruptedException, SQLException {
        long seed = 9;
        Random random = new Random(seed);
        long acknowledged = 0;
        long records = 0;
        Path folder = temporary;
        for (int round = 0; round < KILLS; round++) {
            if (round % KILLS_A_FOLDER == 0) {
                folder = Files.createDirectory(temporary.resolve("data" + round));
                records += acknowledged;
                acknowledged = 0;
            }
            List<String> command =
                    new ArrayList<>(
                            List.of(
                                    ProcessHandle.current().info().command().orElseThrow(),
                                    "-XX:TieredStopAtLevel=1",
                                    "-XX:+UseSerialGC"));
            command.addAll(FileLayer.sqliteFrom(temporary));
            command.addAll(
                    List.of(
                            "-cp",
                            System.getProperty("java.class.path"),
                            KilledWriterIT.class.getName(),
                            folder.toString()));
            Process writer =
                    new ProcessBuilder(command)
                            .redirectError(ProcessBuilder.Redirect.INHERIT)
                            .start();
            try (BufferedReader lines = writer.inputReader(StandardCharsets.UTF_8)) {
                long goal = acknowledged + 100 + random.nextInt(3000);
                while (acknowledged < goal) {
                    acknowledged = Long.parseLong(lines.readLine());
                }
                if (round == 0) {
                    Path used = folder;
                    StoreException refused =
                            assertThrows(StoreException.class, () -> HistoryStore.open(used));
                    assertTrue(
                            String.valueOf(refused.getMessage())
                                    .startsWith("another monitor (process " + writer.pid() + ")"),
                            refused.getMessage());
                }
                // By its handle: Process.destroyForcibly() would close the stream that is read
                // below.
                writer.toHandle().destroyForcibly();
                writer.waitFor();
                // What it wrote in its last moment was acknowledged too.
                for (String line = lines.readLine(); line != null; line = lines.readLine()) {
                    acknowledged = Long.parseLong(line);
                }
            }
            acknowledged = check(folder, acknowledged, "seed " + seed + ", round " + round);
        }
        System.out.println(
                "kept-1 monitor: "
                        + KILLS
                        + " kills by SIGKILL, seed "
                        + seed
                        + ": "
                        + (records + acknowledged)
                        + " records; acknowledged lost 0, doubled 0, out of order 0");
    }

    /** Returns how many records are stored. */
    private static long check(Path folder, long acknowledged, String where)
            throws StoreException, SQLException {
        long stored;
        try (HistoryStore store = HistoryStore.open(folder)) {
            stored = store.lastSequence(AGENT, "j1");
            assertTrue(
                    stored >= acknowledged,
                    where + ": " + acknowledged + " acknowledged but " + stored + " stored");
            Curve curve =
                    store.everyReading(
                                    new CabinetKey(AGENT, Journal.NORTH),
                                    new TimeSpan(Instant.EPOCH, Journal.at(1e9)))
                            .probes()
                            .get(0)
                            .curve();
            assertEquals(stored, curve.size(), where);
            for (int i = 0; i < curve.size(); i++) {
                assertEquals(Journal.at(5.0 * (i + 1)).toEpochMilli(), curve.epochMillis(i), where);
            }
        }
        try (Connection connection =
                        DriverManager.getConnection(
                                "jdbc:sqlite:" + folder.resolve(HistoryStore.FILE_NAME));
                Statement statement = connection.createStatement();
                ResultSet rows = statement.executeQuery("PRAGMA integrity_check")) {
            assertTrue(rows.next());
            assertEquals("ok", rows.getString(1), where);
        }
        return stored;
    }

    /** The writer: appends for ever, and prints each sequence number once it is stored. */
    public static void main(String[] arguments) throws IOException {
        HistoryStore store = HistoryStore.open(Path.of(arguments[0]));
        long last = store.lastSequence(AGENT, "j1");
        Journal journal = new Journal().afterSequence(last);
        while (true) {
            int size = 1 + (int) (last % 64);
            for (int i = 0; i < size; i++) {
                last++;
                journal.top(5.0 * last, 31);
            }
            store.append(AGENT, "j1", journal.take());
            System.out.println(last);
        }
    }
}
