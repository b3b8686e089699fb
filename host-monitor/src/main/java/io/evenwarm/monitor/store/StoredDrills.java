package io.evenwarm.monitor.store;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.CabinetName;
import io.evenwarm.monitor.alarm.EventId;
import io.evenwarm.monitor.alert.Drill;
import io.evenwarm.monitor.alert.DrillStore;
import io.evenwarm.monitor.history.CabinetKey;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

/** Drills in the store of the history, for the running monitor. */
final class StoredDrills implements DrillStore {

    private final HistoryStore store;

    StoredDrills(HistoryStore store) {
        this.store = store;
    }

    @Override
    public List<Drill> open() throws StoreException {
        return store.ask(
                "the drills",
                connection -> {
                    List<Drill> open = new ArrayList<>();
                    try (PreparedStatement select =
                                    connection.prepareStatement(
                                            "SELECT drill_uuid, agent, cabinet, asked_millis,"
                                                    + " limit_seconds, is_cancelled, taken_millis,"
                                                    + " event FROM drill WHERE ended_millis IS NULL"
                                                    + " ORDER BY id");
                            ResultSet rows = select.executeQuery()) {
                        while (rows.next()) {
                            open.add(drill(rows));
                        }
                    }
                    return open;
                });
    }

    private static Drill drill(ResultSet row) throws SQLException {
        return new Drill(
                UUID.fromString(row.getString(1)),
                new CabinetKey(new AgentName(row.getString(2)), new CabinetName(row.getString(3))),
                Instant.ofEpochMilli(row.getLong(4)),
                Duration.ofSeconds(row.getLong(5)),
                row.getInt(6) != 0,
                number(row, 7).map(Instant::ofEpochMilli),
                number(row, 8).map(EventId::new));
    }

    /** A number that may be missing. */
    static Optional<Long> number(ResultSet row, int column) throws SQLException {
        long number = row.getLong(column);
        return row.wasNull() ? Optional.empty() : Optional.of(number);
    }

    @Override
    public void taken(UUID id, Instant at) throws StoreException {
        update("UPDATE drill SET taken_millis = ? WHERE drill_uuid = ?", at.toEpochMilli(), id);
    }

    @Override
    public void occurred(UUID id, EventId event) throws StoreException {
        update("UPDATE drill SET event = ? WHERE drill_uuid = ?", event.number(), id);
    }

    private void update(String sql, long value, UUID id) throws StoreException {
        store.write(
                connection -> {
                    try (PreparedStatement update = connection.prepareStatement(sql)) {
                        update.setLong(1, value);
                        update.setString(2, id.toString());
                        return update.executeUpdate();
                    }
                });
    }

    @Override
    public void ended(UUID id, Instant at, String outcome, boolean isAnswered)
            throws StoreException {
        store.write(
                connection -> {
                    if (isAnswered) {
                        due(connection, at);
                    }
                    try (PreparedStatement update =
                            connection.prepareStatement(
                                    "UPDATE drill SET ended_millis = ?, outcome = ? WHERE"
                                            + " drill_uuid = ?")) {
                        update.setLong(1, at.toEpochMilli());
                        update.setString(2, outcome);
                        update.setString(3, id.toString());
                        return update.executeUpdate();
                    }
                });
    }

    private static void due(Connection connection, Instant since) throws SQLException {
        try (PreparedStatement replace =
                connection.prepareStatement(
                        "INSERT INTO drill_due (slot, since_millis) VALUES (1, ?) ON CONFLICT"
                                + " (slot) DO UPDATE SET since_millis = excluded.since_millis")) {
            replace.setLong(1, since.toEpochMilli());
            replace.executeUpdate();
        }
    }

    @Override
    public Instant dueSince(Instant now) throws StoreException {
        Optional<Instant> kept =
                store.ask(
                        "the drills",
                        connection -> {
                            try (PreparedStatement select =
                                            connection.prepareStatement(
                                                    "SELECT since_millis FROM drill_due WHERE slot"
                                                            + " = 1");
                                    ResultSet rows = select.executeQuery()) {
                                return rows.next()
                                        ? Optional.of(Instant.ofEpochMilli(rows.getLong(1)))
                                        : Optional.empty();
                            }
                        });
        if (kept.isEmpty()) {
            store.write(
                    connection -> {
                        due(connection, now);
                        return 1;
                    });
        }
        return kept.orElse(now);
    }
}
