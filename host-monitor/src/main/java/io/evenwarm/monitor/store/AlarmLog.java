package io.evenwarm.monitor.store;

import io.evenwarm.monitor.alarm.AlarmStatus;
import io.evenwarm.monitor.alarm.DeskState;
import io.evenwarm.monitor.alarm.Now;
import io.evenwarm.monitor.alarm.Subject;
import io.evenwarm.monitor.alert.AlarmsSeen;
import io.evenwarm.monitor.alert.LoggedChange;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.TimeSpan;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** The alarms and their log as seen from outside, on a connection that is lent to it. */
final class AlarmLog {

    private final Connection connection;

    AlarmLog(Connection connection) {
        this.connection = connection;
    }

    /**
     * Open alarms, and the log of a span.
     *
     * @param cabinet that one's alone; empty: all
     */
    AlarmsSeen seen(Optional<CabinetKey> cabinet, TimeSpan span) throws SQLException {
        Optional<DeskState> state = StoredAlarms.state(connection);
        List<AlarmStatus> open =
                state.map(DeskState::alarms).orElse(List.of()).stream()
                        .filter(
                                alarm ->
                                        cabinet.map(Subject::of)
                                                .map(alarm.key().subject()::equals)
                                                .orElse(true))
                        .toList();
        return new AlarmsSeen(
                open,
                state.map(DeskState::savedAt).orElse(new Now(Instant.EPOCH, 0)),
                changes(
                        cabinet,
                        cabinet.isPresent() ? " AND agent = ? AND cabinet = ?" : "",
                        span));
    }

    /** The log of a span about a cabinet and about its agent as a whole, the oldest first. */
    List<LoggedChange> about(CabinetKey key, TimeSpan span) throws SQLException {
        return changes(
                Optional.of(key), " AND agent = ? AND (cabinet = ? OR cabinet IS NULL)", span);
    }

    private List<LoggedChange> changes(Optional<CabinetKey> cabinet, String whose, TimeSpan span)
            throws SQLException {
        List<LoggedChange> changes = new ArrayList<>();
        try (PreparedStatement select =
                connection.prepareStatement(
                        StoredAlarms.CHANGES
                                + " WHERE at_millis >= ? AND at_millis < ?"
                                + whose
                                + " ORDER BY number")) {
            select.setLong(1, span.from().toEpochMilli());
            select.setLong(2, span.to().toEpochMilli());
            if (cabinet.isPresent()) {
                select.setString(3, cabinet.get().agent().value());
                select.setString(4, cabinet.get().cabinet().value());
            }
            try (ResultSet rows = select.executeQuery()) {
                while (rows.next()) {
                    changes.add(StoredAlarms.change(rows));
                }
            }
        }
        return changes;
    }
}
