package io.evenwarm.monitor.store;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.CabinetName;
import io.evenwarm.monitor.Journal;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.ProbeSummaries;
import io.evenwarm.monitor.history.Tier;
import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.monitor.notice.PendingDelivery;
import java.io.IOException;
import java.io.InputStream;
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
import java.util.Optional;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * A store of any earlier version is brought up to date and loses nothing. The files are those that
 * each version's own program wrote: two runs of one agent, of which the second began with a wrong
 * clock, and one of another agent whose clock nobody vouched for yet.
 */
final class SchemaTest {

    private static final TimeSpan ALL = new TimeSpan(Instant.EPOCH, Journal.at(1e9));
    private static final CabinetKey NORTH =
            new CabinetKey(new AgentName("egg room"), Journal.NORTH);

    static List<Integer> earlierVersions() {
        List<Integer> versions = new ArrayList<>();
        for (int version = 1; version < Schema.VERSION; version++) {
            versions.add(version);
        }
        return versions;
    }

    private static Path storeOfVersion(int version, Path folder) throws IOException {
        Path file = folder.resolve(HistoryStore.FILE_NAME);
        try (InputStream in =
                SchemaTest.class.getResourceAsStream("store-version-" + version + ".sqlite")) {
            if (in == null) {
                throw new AssertionError("no store of version " + version + " was kept");
            }
            Files.copy(in, file);
        }
        return file;
    }

    @ParameterizedTest
    @MethodSource("earlierVersions")
    void aStoreOfAnEarlierVersionKeepsAllItHad(int version, @TempDir Path folder)
            throws IOException {
        storeOfVersion(version, folder);
        try (HistoryStore store = HistoryStore.open(folder)) {
            assertEquals(364, store.lastSequence(NORTH.agent(), "j1"));
            assertEquals(361, store.everyReading(NORTH, ALL).probes().get(0).curve().size() - 1);
            assertEquals(2, store.log(Optional.empty(), ALL, 10).size());
            assertEquals(
                    List.of(NORTH, new CabinetKey(new AgentName("shed"), new CabinetName("south"))),
                    store.cabinets());
            // The spike of the 77th reading, and the bad one beside it.
            ProbeSummaries top = store.summaries(NORTH, ALL, Tier.SIX_HOURS).get(0);
            assertEquals(85, top.summaries().greatest(0));
            assertEquals(361, top.summaries().count(0));
            ProbeSummaries low = store.summaries(NORTH, ALL, Tier.HOUR).get(1);
            assertEquals(299, low.summaries().count(0));
            assertEquals(1, low.summaries().badCount(0));
            if (version >= 4) {
                assertEquals(
                        List.of("bert"),
                        store.notices().pending().stream().map(PendingDelivery::person).toList());
                assertEquals(1, store.notices().escalations().size());
                assertEquals(1, store.alarms().newest(10).size());
                assertEquals(1, store.alarms().state().orElseThrow().alarms().size());
            }
            if (version >= 5) {
                assertEquals(NORTH, store.drills().open().get(0).cabinet());
                assertEquals("C7", new StoreFile(folder).tubs(true).get(0).name());
            }
            if (version >= 7) {
                assertEquals(1, new StoreFile(folder).runs().size());
            }
            if (version >= 6) {
                assertEquals(
                        Optional.of(Instant.parse("2030-03-01T06:00:00Z")),
                        new StoreFile(folder).flowBegin(NORTH));
            }
        }
    }

    @ParameterizedTest
    @MethodSource("earlierVersions")
    void tiersOfAnEarlierVersionsReadingsAreAsIfKeptFromTheBeginning(
            int version, @TempDir Path folder, @TempDir Path fresh)
            throws IOException, SQLException {
        Path old = storeOfVersion(version, folder);
        HistoryStore.open(folder).close();
        HistoryStore.open(fresh).close();
        Path other = fresh.resolve(HistoryStore.FILE_NAME);
        assertEquals(
                dump(other, "SELECT sql FROM sqlite_schema ORDER BY name"),
                dump(old, "SELECT sql FROM sqlite_schema ORDER BY name"),
                "the same tables as a new store");
        for (TierTable table : TierTable.values()) {
            List<String> migrated = dump(old, "SELECT * FROM " + table.table());
            assertTrue(migrated.size() > 30, table + " has " + migrated.size() + " rows");
            try (Connection connection = connect(old);
                    Statement statement = connection.createStatement()) {
                statement.execute("DELETE FROM " + table.table());
                refill(connection, table);
            }
            assertEquals(dump(old, "SELECT * FROM " + table.table()), migrated);
        }
    }

    @ParameterizedTest
    @MethodSource("earlierVersions")
    void anArchiveOfAnEarlierVersionsStoreIsTakenInAsThatStoreIsItself(
            int version, @TempDir Path folder) throws IOException, SQLException {
        Path archive = folder.resolve("all.zip");
        Path upgraded = Files.createDirectory(folder.resolve("upgraded"));
        Path file = storeOfVersion(version, upgraded);
        long rows;
        try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + file)) {
            rows = StoreArchive.ofVersion(connection, version).write(archive);
        }
        HistoryStore.open(upgraded).close();
        Path taken = folder.resolve("taken");
        try (HistoryStore store = HistoryStore.open(taken)) {
            assertEquals(rows, store.importAll(archive));
            assertTrue(store.check().isSound(), store.check().words().toString());
        }
        for (String table : StoreArchive.TABLES) {
            assertEquals(
                    dump(file, "SELECT * FROM " + table),
                    dump(taken.resolve(HistoryStore.FILE_NAME), "SELECT * FROM " + table),
                    table);
        }
    }

    /** Sums up as the running program does. */
    private static void refill(Connection connection, TierTable table) throws SQLException {
        TierWriter writer = new TierWriter(connection);
        String sql =
                table == TierTable.PROBE
                        ? "SELECT probe_id, time_millis, value FROM reading"
                        : table == TierTable.HEATER
                                ? "SELECT cabinet_id, time_millis, heater_on_fraction FROM record"
                                : "SELECT cabinet_id, time_millis, set_point_celsius FROM record";
        try (Statement statement = connection.createStatement();
                ResultSet rows = statement.executeQuery(sql)) {
            while (rows.next()) {
                double value = rows.getDouble(3);
                if (rows.wasNull()) {
                    writer.addBad(table, rows.getLong(1), rows.getLong(2));
                } else {
                    writer.add(table, rows.getLong(1), rows.getLong(2), value);
                }
            }
        }
        writer.flush();
    }

    private static Connection connect(Path file) throws SQLException {
        return DriverManager.getConnection("jdbc:sqlite:" + file);
    }

    private static List<String> dump(Path file, String sql) throws SQLException {
        List<String> lines = new ArrayList<>();
        try (Connection connection = connect(file);
                Statement statement = connection.createStatement();
                ResultSet rows = statement.executeQuery(sql)) {
            while (rows.next()) {
                StringBuilder line = new StringBuilder();
                for (int i = 1; i <= rows.getMetaData().getColumnCount(); i++) {
                    String cell = String.valueOf(rows.getString(i));
                    line.append(cell.replaceAll("\\s+", " ").strip()).append('|');
                }
                lines.add(line.toString());
            }
        }
        return lines;
    }
}
