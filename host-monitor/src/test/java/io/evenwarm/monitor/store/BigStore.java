package io.evenwarm.monitor.store;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.CabinetName;
import io.evenwarm.monitor.Journal;
import io.evenwarm.monitor.history.CabinetKey;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;

/**
 * Makes a store of three cabinets with eight probes each and one reading each 5 s, as large as one
 * likes, fast: straight into the tables, in the order in which they lie on disk. What stands in it
 * is what a monitor would have stored; {@code store check} finds it sound.
 */
final class BigStore {

    static final AgentName AGENT = new AgentName("egg room");
    static final List<CabinetKey> CABINETS = List.of(key("north"), key("middle"), key("south"));

    /** The first record; later ones follow each 5 s. */
    static final Instant BEGIN = Instant.parse("2028-01-01T00:00:00Z");

    static final int STEP_MILLIS = 5_000;
    static final int PROBES = 8;

    private static final int ROWS_AT_ONCE = 17_280; // a day

    private BigStore() {}

    private static CabinetKey key(String cabinet) {
        return new CabinetKey(AGENT, new CabinetName(cabinet));
    }

    /** Readings of all probes together for so many records of each cabinet. */
    static long readings(int records) {
        return (long) records * CABINETS.size() * PROBES;
    }

    /** A day's swing, a relay's ripple, a sensor's steps of 1/16 °C, and a spike now and then. */
    static double celsius(int probe, int record) {
        if ((record + 977 * probe) % 200_003 == 1_234) {
            return 40 + probe / 16.0;
        }
        double smooth =
                31.5
                        + 0.05 * probe
                        + 0.2 * Math.sin(record / 2750.0)
                        + 0.1 * Math.sin(record / 12.0 + probe);
        return Math.rint(16 * smooth) / 16;
    }

    /** Fills the new store of a folder. */
    static void make(Path folder, int records) throws StoreException, SQLException {
        HistoryStore.open(folder).close();
        try (Connection connection =
                        Connections.openForWriting(folder.resolve(HistoryStore.FILE_NAME));
                Statement statement = connection.createStatement()) {
            // Nobody else is there, and what breaks is made anew.
            statement.execute("PRAGMA synchronous = OFF");
            statement.execute("PRAGMA foreign_keys = OFF");
            statement.execute("PRAGMA cache_size = -200000");
            connection.setAutoCommit(false);
            new Maker(connection).make(records);
            connection.commit();
        }
    }

    private static final class Maker {

        private final Connection connection;
        private final Ids ids;
        private final TierWriter tiers;

        Maker(Connection connection) throws SQLException {
            this.connection = connection;
            ids = new Ids(connection);
            tiers = new TierWriter(connection);
        }

        void make(int records) throws SQLException {
            long agent = ids.agent(AGENT.value());
            long journal = ids.journal(agent, "generated");
            List<Long> cabinets = new ArrayList<>();
            for (CabinetKey key : CABINETS) {
                cabinets.add(ids.cabinet(agent, key.cabinet().value()));
            }
            try (PreparedStatement boot =
                    connection.prepareStatement(
                            "INSERT INTO boot (agent_id, boot, last_time_millis,"
                                    + " trusted_offset_millis) VALUES (?, 'generated', ?, 0)")) {
                boot.setLong(1, agent);
                boot.setLong(2, time(records - 1));
                boot.executeUpdate();
            }
            for (int cabinet = 0; cabinet < cabinets.size(); cabinet++) {
                records(cabinet, cabinets.get(cabinet), journal, records);
            }
            for (int cabinet = 0; cabinet < cabinets.size(); cabinet++) {
                for (int probe = 0; probe < PROBES; probe++) {
                    long id =
                            ids.probe(
                                    cabinets.get(cabinet),
                                    "probe " + probe,
                                    "place " + probe,
                                    Ids.CELSIUS);
                    readings(cabinet, probe, id, journal, records);
                }
            }
            try (PreparedStatement last =
                    connection.prepareStatement("UPDATE journal SET last_sequence = ?")) {
                last.setLong(1, 3L * records);
                last.executeUpdate();
            }
        }

        private static long time(int record) {
            return BEGIN.toEpochMilli() + (long) record * STEP_MILLIS;
        }

        private void records(int cabinet, long id, long journal, int records) throws SQLException {
            long guard = ids.word("ALLOWING");
            long limits = ids.limits(Journal.LIMITS);
            try (PreparedStatement insert =
                    connection.prepareStatement(
                            "INSERT INTO record VALUES (?, ?, ?, ?, 1, ?, 0, 31.5, 0.4, ?, ?,"
                                    + " ?)")) {
                for (int record = 0; record < records; record++) {
                    double share = (record + cabinet) % 24 < 10 ? 1 : 0;
                    insert.setLong(1, id);
                    insert.setLong(2, time(record));
                    insert.setLong(3, journal);
                    insert.setLong(4, 3L * record + cabinet + 1);
                    insert.setLong(5, (long) record * STEP_MILLIS);
                    insert.setDouble(6, share);
                    insert.setLong(7, guard);
                    insert.setLong(8, limits);
                    insert.addBatch();
                    tiers.add(TierTable.SET_POINT, id, time(record), 31.5);
                    tiers.add(TierTable.HEATER, id, time(record), share);
                    flushDaily(insert, record);
                }
                insert.executeBatch();
                tiers.flush();
            }
        }

        private void readings(int cabinet, int probe, long id, long journal, int records)
                throws SQLException {
            try (PreparedStatement insert =
                    connection.prepareStatement(
                            "INSERT INTO reading VALUES (?, ?, ?, ?, ?, NULL)")) {
                for (int record = 0; record < records; record++) {
                    double value = celsius(cabinet * PROBES + probe, record);
                    insert.setLong(1, id);
                    insert.setLong(2, time(record));
                    insert.setLong(3, journal);
                    insert.setLong(4, 3L * record + cabinet + 1);
                    insert.setDouble(5, value);
                    insert.addBatch();
                    tiers.add(TierTable.PROBE, id, time(record), value);
                    flushDaily(insert, record);
                }
                insert.executeBatch();
                tiers.flush();
            }
        }

        private void flushDaily(PreparedStatement insert, int record) throws SQLException {
            if (record % ROWS_AT_ONCE == ROWS_AT_ONCE - 1) {
                insert.executeBatch();
                tiers.flush();
            }
        }
    }

    /** Size of the store in octets, over what it is empty. */
    static long octets(Path folder) throws SQLException {
        try (Connection connection =
                        Connections.openForReading(folder.resolve(HistoryStore.FILE_NAME));
                Statement statement = connection.createStatement();
                ResultSet rows =
                        statement.executeQuery(
                                "SELECT page_count * page_size FROM pragma_page_count(),"
                                        + " pragma_page_size()")) {
            rows.next();
            return rows.getLong(1);
        }
    }
}
