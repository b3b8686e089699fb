package io.evenwarm.monitor.store;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.LogEntry;
import io.evenwarm.monitor.history.TimeSpan;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** Reads the log on a connection that is lent to it for one query. */
final class LogReader {

    private static final String OF_ONE_CABINET =
            " AND agent.name = ? AND (cabinet.name = ? OR log_entry.cabinet_id IS NULL)";

    private final Connection connection;

    LogReader(Connection connection) {
        this.connection = connection;
    }

    List<LogEntry> entries(Optional<CabinetKey> key, TimeSpan span, int limit) throws SQLException {
        try (PreparedStatement select =
                connection.prepareStatement(
                        "SELECT agent.name, cabinet.name, code, begin_millis, end_millis, words"
                                + " FROM log_entry JOIN agent ON agent.id = log_entry.agent_id"
                                + " LEFT JOIN cabinet ON cabinet.id = log_entry.cabinet_id"
                                + " WHERE begin_millis < ?"
                                + " AND (end_millis IS NULL OR end_millis >= ?)"
                                + (key.isPresent() ? OF_ONE_CABINET : "")
                                + " ORDER BY begin_millis DESC, log_entry.id DESC LIMIT "
                                + limit)) {
            select.setLong(1, Keys.ceilingMillis(span.to()));
            select.setLong(2, Keys.ceilingMillis(span.from()));
            if (key.isPresent()) {
                select.setString(3, key.get().agent().value());
                select.setString(4, key.get().cabinet().value());
            }
            List<LogEntry> entries = new ArrayList<>();
            try (ResultSet rows = select.executeQuery()) {
                while (rows.next()) {
                    entries.add(entry(rows));
                }
            }
            return entries;
        }
    }

    /** From the events themselves: a line of the log has words only. */
    List<Instant> plannedWork(CabinetKey key, TimeSpan span) throws SQLException {
        try (PreparedStatement select =
                connection.prepareStatement(
                        "SELECT time_millis FROM event WHERE kind = ?"
                                + " AND cabinet_id = (SELECT cabinet.id FROM cabinet"
                                + " JOIN agent ON agent.id = cabinet.agent_id"
                                + " WHERE agent.name = ? AND cabinet.name = ?)"
                                + " AND time_millis >= ? AND time_millis < ?"
                                + " ORDER BY time_millis")) {
            select.setString(1, JournalRecord.Event.Kind.WORK_BEGUN.name());
            select.setString(2, key.agent().value());
            select.setString(3, key.cabinet().value());
            select.setLong(4, Keys.ceilingMillis(span.from()));
            select.setLong(5, Keys.ceilingMillis(span.to()));
            List<Instant> begun = new ArrayList<>();
            try (ResultSet rows = select.executeQuery()) {
                while (rows.next()) {
                    begun.add(Instant.ofEpochMilli(rows.getLong(1)));
                }
            }
            return begun;
        }
    }

    private static LogEntry entry(ResultSet rows) throws SQLException {
        Optional<Instant> end = Optional.of(Instant.ofEpochMilli(rows.getLong(5)));
        if (rows.wasNull()) {
            end = Optional.empty();
        }
        return new LogEntry(
                new AgentName(rows.getString(1)),
                Optional.ofNullable(rows.getString(2)).map(CabinetName::new),
                Optional.ofNullable(rows.getString(3)).map(FindingCode::new),
                Instant.ofEpochMilli(rows.getLong(4)),
                end,
                rows.getString(6));
    }
}
