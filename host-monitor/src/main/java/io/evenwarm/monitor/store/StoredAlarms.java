package io.evenwarm.monitor.store;

import io.evenwarm.monitor.alarm.AlarmChange;
import io.evenwarm.monitor.alarm.DeskState;
import io.evenwarm.monitor.alert.AlarmStore;
import io.evenwarm.monitor.alert.DeskText;
import io.evenwarm.monitor.alert.LoggedChange;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Types;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** The alarm log in the store of the history. Any thread may call it; writers take turns there. */
final class StoredAlarms implements AlarmStore {

    private final HistoryStore store;

    StoredAlarms(HistoryStore store) {
        this.store = store;
    }

    @Override
    public void keep(List<AlarmChange> changes, DeskState state) throws StoreException {
        String text = DeskText.of(state);
        store.write(
                connection -> {
                    for (AlarmChange change : changes) {
                        insert(connection, change);
                    }
                    return replace(connection, text);
                });
    }

    @Override
    public void add(List<AlarmChange> changes) throws StoreException {
        int unusedCount =
                store.write(
                        connection -> {
                            for (AlarmChange change : changes) {
                                insert(connection, change);
                            }
                            return changes.size();
                        });
    }

    private static void insert(Connection connection, AlarmChange change) throws SQLException {
        try (PreparedStatement insert =
                connection.prepareStatement(
                        "INSERT INTO alarm_change (number, at_millis, subject, agent, cabinet, code,"
                                + " probe, event, from_state, to_state, cause, who, why, priority,"
                                + " time_left_seconds, began_millis, evidence, action, advice)"
                                + " VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)"
                                + " ON CONFLICT DO NOTHING")) {
            insert.setLong(1, change.number());
            insert.setLong(2, change.at().wall().toEpochMilli());
            insert.setString(3, change.key().subject().toString());
            text(insert, 4, change.key().subject().agent().map(agent -> agent.value()));
            text(insert, 5, change.key().subject().cabinet().map(cabinet -> cabinet.value()));
            insert.setString(6, change.key().code().value());
            text(insert, 7, change.key().probe().map(probe -> probe.value()));
            number(insert, 8, change.event().map(event -> event.number()));
            insert.setString(9, change.from().words());
            insert.setString(10, change.to().words());
            insert.setString(11, change.trigger().words());
            insert.setString(12, change.who());
            insert.setString(13, change.why());
            insert.setString(14, change.priority().words());
            number(insert, 15, change.timeLeft().map(Duration::toSeconds));
            insert.setLong(16, change.began().toEpochMilli());
            insert.setString(17, change.words().evidence());
            insert.setString(18, change.words().action());
            insert.setString(19, change.words().advice());
            insert.executeUpdate();
        }
    }

    private static void text(PreparedStatement statement, int index, Optional<String> text)
            throws SQLException {
        if (text.isPresent()) {
            statement.setString(index, text.get());
        } else {
            statement.setNull(index, Types.VARCHAR);
        }
    }

    private static void number(PreparedStatement statement, int index, Optional<Long> number)
            throws SQLException {
        if (number.isPresent()) {
            statement.setLong(index, number.get());
        } else {
            statement.setNull(index, Types.BIGINT);
        }
    }

    private static int replace(Connection connection, String text) throws SQLException {
        try (PreparedStatement replace =
                connection.prepareStatement(
                        "INSERT INTO alarm_desk (slot, content) VALUES (1, ?) ON CONFLICT (slot) DO"
                                + " UPDATE SET content = excluded.content")) {
            replace.setString(1, text);
            return replace.executeUpdate();
        }
    }

    @Override
    public Optional<DeskState> state() throws StoreException {
        return store.ask("the alarms", StoredAlarms::state);
    }

    /** Empty when there is none, or none that can be read. */
    static Optional<DeskState> state(Connection connection) throws SQLException {
        try (PreparedStatement select =
                        connection.prepareStatement(
                                "SELECT content FROM alarm_desk WHERE slot = 1");
                ResultSet rows = select.executeQuery()) {
            return rows.next() ? DeskText.parse(rows.getString(1)) : Optional.empty();
        }
    }

    @Override
    public List<LoggedChange> newest(int limit) throws StoreException {
        return store.ask(
                "the alarms",
                connection -> {
                    List<LoggedChange> newest = new ArrayList<>();
                    try (PreparedStatement select =
                            connection.prepareStatement(
                                    CHANGES + " ORDER BY number DESC LIMIT ?")) {
                        select.setInt(1, limit);
                        try (ResultSet rows = select.executeQuery()) {
                            while (rows.next()) {
                                newest.add(change(rows));
                            }
                        }
                    }
                    return newest;
                });
    }

    /** As {@link #change} reads them. */
    static final String CHANGES =
            "SELECT number, at_millis, subject, code, probe, from_state, to_state, who, why,"
                    + " priority, evidence FROM alarm_change";

    static LoggedChange change(ResultSet row) throws SQLException {
        return new LoggedChange(
                row.getLong(1),
                Instant.ofEpochMilli(row.getLong(2)),
                row.getString(3),
                row.getString(4),
                Optional.ofNullable(row.getString(5)),
                row.getString(6),
                row.getString(7),
                row.getString(8),
                row.getString(9),
                row.getString(10),
                row.getString(11));
    }
}
