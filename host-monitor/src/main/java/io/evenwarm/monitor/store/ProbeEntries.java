package io.evenwarm.monitor.store;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbeSensor;
import io.evenwarm.monitor.evenness.Estimate;
import io.evenwarm.monitor.evenness.KnownSensor;
import io.evenwarm.monitor.evenness.ProbeEntry;
import io.evenwarm.monitor.evenness.ProbeRecord;
import io.evenwarm.monitor.history.CabinetKey;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Types;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** What became known of probes, on a connection that is lent to it. Nothing is ever changed. */
final class ProbeEntries {

    /** In the place of a kind of entry: what its agent says that a probe is. */
    private static final String SENSOR = "sensor";

    private final Connection connection;

    ProbeEntries(Connection connection) {
        this.connection = connection;
    }

    ProbeRecord all() throws SQLException {
        List<ProbeEntry> entries = new ArrayList<>();
        List<KnownSensor> sensors = new ArrayList<>();
        try (PreparedStatement select =
                        connection.prepareStatement(
                                "SELECT agent, cabinet, probe, at_millis, kind, reference,"
                                        + " offset_kelvin, standard_uncertainty_kelvin,"
                                        + " degrees_of_freedom FROM probe_check ORDER BY agent,"
                                        + " cabinet, probe, at_millis, id");
                ResultSet rows = select.executeQuery()) {
            while (rows.next()) {
                CabinetKey key = Keys.of(rows.getString(1), rows.getString(2));
                ProbeName probe = new ProbeName(rows.getString(3));
                Instant at = Instant.ofEpochMilli(rows.getLong(4));
                if (rows.getString(5).equals(SENSOR)) {
                    sensors.add(new KnownSensor(key, probe, at, rows.getString(6)));
                } else {
                    entries.add(
                            new ProbeEntry(
                                    key,
                                    probe,
                                    at,
                                    ProbeEntry.Kind.of(rows.getString(5)),
                                    rows.getString(6),
                                    offset(rows)));
                }
            }
        }
        return new ProbeRecord(entries, sensors);
    }

    /** What an agent says that its probes are: adds what is new. Returns how many rows. */
    int addSensors(AgentName agent, List<ProbeSensor> said, Instant now) throws SQLException {
        Map<List<String>, String> known = new LinkedHashMap<>();
        for (KnownSensor sensor : all().sensors()) {
            if (sensor.key().agent().equals(agent)) {
                known.put(
                        List.of(sensor.key().cabinet().value(), sensor.probe().value()),
                        sensor.sensor());
            }
        }
        Map<List<String>, String> newest = new LinkedHashMap<>();
        known.keySet().forEach(probe -> newest.put(probe, ""));
        said.forEach(
                sensor ->
                        newest.put(
                                List.of(sensor.cabinet().value(), sensor.probe().value()),
                                sensor.sensor()));
        newest.entrySet().removeIf(its -> its.getValue().equals(known.get(its.getKey())));
        try (PreparedStatement insert =
                connection.prepareStatement(
                        "INSERT INTO probe_check (agent, cabinet, probe, at_millis, kind,"
                                + " reference) VALUES (?, ?, ?, ?, ?, ?)")) {
            for (Map.Entry<List<String>, String> its : newest.entrySet()) {
                insert.setString(1, agent.value());
                insert.setString(2, its.getKey().get(0));
                insert.setString(3, its.getKey().get(1));
                insert.setLong(4, now.toEpochMilli());
                insert.setString(5, SENSOR);
                insert.setString(6, its.getValue());
                insert.addBatch();
            }
            insert.executeBatch();
        }
        return newest.size();
    }

    private static Optional<Estimate> offset(ResultSet row) throws SQLException {
        double offset = row.getDouble(7);
        if (row.wasNull()) {
            return Optional.empty();
        }
        double uncertainty = row.getDouble(8);
        double degrees = row.getDouble(9);
        boolean isExact = row.wasNull();
        return Optional.of(
                new Estimate(offset, uncertainty, isExact ? Double.POSITIVE_INFINITY : degrees));
    }

    /** All of them, in the transaction of whoever calls. */
    void add(List<ProbeEntry> entries) throws SQLException {
        try (PreparedStatement insert =
                connection.prepareStatement(
                        "INSERT INTO probe_check (agent, cabinet, probe, at_millis, kind,"
                                + " reference, offset_kelvin, standard_uncertainty_kelvin,"
                                + " degrees_of_freedom) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)")) {
            for (ProbeEntry entry : entries) {
                insert.setString(1, entry.key().agent().value());
                insert.setString(2, entry.key().cabinet().value());
                insert.setString(3, entry.probe().value());
                insert.setLong(4, entry.at().toEpochMilli());
                insert.setString(5, entry.kind().key());
                insert.setString(6, entry.reference());
                setNumber(insert, 7, entry.offset().map(Estimate::value));
                setNumber(insert, 8, entry.offset().map(Estimate::standardUncertainty));
                setNumber(
                        insert,
                        9,
                        entry.offset().map(Estimate::degreesOfFreedom).filter(Double::isFinite));
                insert.addBatch();
            }
            insert.executeBatch();
        }
    }

    private static void setNumber(PreparedStatement insert, int index, Optional<Double> value)
            throws SQLException {
        if (value.isPresent()) {
            insert.setDouble(index, value.get());
        } else {
            insert.setNull(index, Types.DOUBLE);
        }
    }

    /** Since when a cabinet's air flow is to be learned: the newest time that was said. */
    Optional<Instant> flowBegin(CabinetKey key) throws SQLException {
        try (PreparedStatement select =
                connection.prepareStatement(
                        "SELECT max(begin_millis) FROM air_flow_begin WHERE agent = ? AND cabinet ="
                                + " ?")) {
            select.setString(1, key.agent().value());
            select.setString(2, key.cabinet().value());
            try (ResultSet row = select.executeQuery()) {
                row.next();
                return StoredDrills.number(row, 1).map(Instant::ofEpochMilli);
            }
        }
    }

    void addFlowBegin(CabinetKey key, Instant begin, String why) throws SQLException {
        try (PreparedStatement insert =
                connection.prepareStatement(
                        "INSERT INTO air_flow_begin (agent, cabinet, begin_millis, why) VALUES (?,"
                                + " ?, ?, ?)")) {
            insert.setString(1, key.agent().value());
            insert.setString(2, key.cabinet().value());
            insert.setLong(3, begin.toEpochMilli());
            insert.setString(4, why);
            insert.executeUpdate();
        }
    }
}
