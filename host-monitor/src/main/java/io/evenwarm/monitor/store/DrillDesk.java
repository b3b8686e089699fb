package io.evenwarm.monitor.store;

import io.evenwarm.monitor.alarm.AlarmCodes;
import io.evenwarm.monitor.alarm.AlarmState;
import io.evenwarm.monitor.alarm.EventId;
import io.evenwarm.monitor.alarm.Trigger;
import io.evenwarm.monitor.alert.AlarmKeeper;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.notice.NoticeJson;
import io.evenwarm.monitor.notice.NoticeKind;
import io.evenwarm.monitor.store.DrillReport.Acknowledged;
import io.evenwarm.monitor.store.DrillReport.Hand;
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

/** Drills as who asks for one sees them, by a connection of their own. */
final class DrillDesk {

    private final Connection connection;

    DrillDesk(Connection connection) {
        this.connection = connection;
    }

    void ask(UUID id, CabinetKey cabinet, Instant now, Duration limit) throws SQLException {
        try (PreparedStatement insert =
                connection.prepareStatement(
                        "INSERT INTO drill (drill_uuid, agent, cabinet, asked_millis,"
                                + " limit_seconds, is_cancelled, outcome) VALUES (?, ?, ?, ?, ?, 0,"
                                + " '')")) {
            insert.setString(1, id.toString());
            insert.setString(2, cabinet.agent().value());
            insert.setString(3, cabinet.cabinet().value());
            insert.setLong(4, now.toEpochMilli());
            insert.setLong(5, limit.toSeconds());
            insert.executeUpdate();
        }
    }

    void cancel(UUID id) throws SQLException {
        try (PreparedStatement update =
                connection.prepareStatement(
                        "UPDATE drill SET is_cancelled = 1 WHERE drill_uuid = ?")) {
            update.setString(1, id.toString());
            update.executeUpdate();
        }
    }

    DrillReport report(UUID id) throws SQLException {
        try (PreparedStatement select =
                connection.prepareStatement(
                        "SELECT asked_millis, taken_millis, event, ended_millis, outcome FROM drill"
                                + " WHERE drill_uuid = ?")) {
            select.setString(1, id.toString());
            try (ResultSet row = select.executeQuery()) {
                row.next();
                Instant asked = Instant.ofEpochMilli(row.getLong(1));
                Optional<Long> taken = StoredDrills.number(row, 2);
                Optional<EventId> event = StoredDrills.number(row, 3).map(EventId::new);
                Optional<Instant> ended = StoredDrills.number(row, 4).map(Instant::ofEpochMilli);
                String outcome = row.getString(5);
                boolean hasBegun = taken.isPresent() && event.isPresent();
                return new DrillReport(
                        asked,
                        taken.map(Instant::ofEpochMilli),
                        hasBegun ? raised(event.get(), taken.get()) : Optional.empty(),
                        hasBegun && outcome.equals("acknowledged")
                                ? acknowledged(event.get(), taken.get())
                                : Optional.empty(),
                        ended,
                        outcome,
                        hasBegun ? hands(event.get(), taken.get()) : List.of());
            }
        }
    }

    private Optional<Instant> raised(EventId event, long sinceMillis) throws SQLException {
        try (PreparedStatement select =
                connection.prepareStatement(
                        "SELECT min(at_millis) FROM alarm_change WHERE code = ? AND event = ? AND"
                                + " to_state = ? AND at_millis >= ?")) {
            select.setString(1, AlarmCodes.DRILL.value());
            select.setLong(2, event.number());
            select.setString(3, AlarmState.UNACKNOWLEDGED.words());
            select.setLong(4, sinceMillis);
            try (ResultSet row = select.executeQuery()) {
                row.next();
                return StoredDrills.number(row, 1).map(Instant::ofEpochMilli);
            }
        }
    }

    private Optional<Acknowledged> acknowledged(EventId event, long sinceMillis)
            throws SQLException {
        try (PreparedStatement select =
                connection.prepareStatement(
                        "SELECT who, at_millis FROM alarm_change WHERE code = ? AND event = ? AND"
                                + " cause = ? AND at_millis >= ? ORDER BY number LIMIT 1")) {
            select.setString(1, AlarmCodes.DRILL.value());
            select.setLong(2, event.number());
            select.setString(3, Trigger.ACKNOWLEDGED.words());
            select.setLong(4, sinceMillis);
            try (ResultSet row = select.executeQuery()) {
                return row.next()
                        ? Optional.of(
                                new Acknowledged(
                                        row.getString(1), Instant.ofEpochMilli(row.getLong(2))))
                        : Optional.empty();
            }
        }
    }

    private List<Hand> hands(EventId event, long sinceMillis) throws SQLException {
        List<Hand> hands = new ArrayList<>();
        try (PreparedStatement select =
                connection.prepareStatement(
                        "SELECT person, channel, added_millis, state, tries, ended_millis, words,"
                                + " content FROM notice_delivery JOIN notice ON notice.id ="
                                + " notice_id WHERE event = ? AND added_millis >= ? ORDER BY"
                                + " notice_delivery.id")) {
            select.setString(1, AlarmKeeper.noticeEvent(event));
            select.setLong(2, sinceMillis);
            try (ResultSet rows = select.executeQuery()) {
                while (rows.next()) {
                    if (NoticeJson.parse(rows.getString(8)).kind() == NoticeKind.DRILL) {
                        hands.add(
                                new Hand(
                                        rows.getString(1),
                                        rows.getString(2),
                                        Instant.ofEpochMilli(rows.getLong(3)),
                                        rows.getString(4),
                                        rows.getInt(5),
                                        StoredDrills.number(rows, 6).map(Instant::ofEpochMilli),
                                        rows.getString(7)));
                    }
                }
            }
        }
        return hands;
    }
}
