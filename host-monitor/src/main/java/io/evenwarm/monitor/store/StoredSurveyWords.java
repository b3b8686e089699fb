package io.evenwarm.monitor.store;

import io.evenwarm.monitor.evenness.Stand;
import io.evenwarm.monitor.evenness.SurveyLoad;
import io.evenwarm.monitor.evenness.SurveyWords;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.TimeSpan;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** What keepers said of surveys, on a connection that is lent to it. */
final class StoredSurveyWords {

    private final Connection connection;

    StoredSurveyWords(Connection connection) {
        this.connection = connection;
    }

    SurveyWords all() throws SQLException {
        List<SurveyWords.Load> loads = new ArrayList<>();
        try (PreparedStatement select =
                        connection.prepareStatement(
                                "SELECT agent, cabinet, from_millis, to_millis, load FROM"
                                        + " survey_load ORDER BY id");
                ResultSet rows = select.executeQuery()) {
            while (rows.next()) {
                loads.add(
                        new SurveyWords.Load(
                                Keys.of(rows.getString(1), rows.getString(2)),
                                span(rows),
                                SurveyLoad.Kind.valueOf(
                                        rows.getString(5).toUpperCase(Locale.ROOT))));
            }
        }
        List<SurveyWords.Placed> stands = new ArrayList<>();
        try (PreparedStatement select =
                        connection.prepareStatement(
                                "SELECT agent, cabinet, from_millis, to_millis, probe, position FROM"
                                        + " probe_stand ORDER BY id");
                ResultSet rows = select.executeQuery()) {
            while (rows.next()) {
                stands.add(
                        new SurveyWords.Placed(
                                Keys.of(rows.getString(1), rows.getString(2)),
                                Stand.of(rows.getString(5), rows.getString(6), span(rows))));
            }
        }
        return new SurveyWords(loads, stands);
    }

    private static TimeSpan span(ResultSet row) throws SQLException {
        return new TimeSpan(
                Instant.ofEpochMilli(row.getLong(3)), Instant.ofEpochMilli(row.getLong(4)));
    }

    void addLoad(SurveyWords.Load load) throws SQLException {
        try (PreparedStatement insert =
                connection.prepareStatement(
                        "INSERT INTO survey_load (agent, cabinet, from_millis, to_millis, load)"
                                + " VALUES (?, ?, ?, ?, ?)")) {
            bind(insert, load.key(), load.span());
            insert.setString(5, load.kind().name().toLowerCase(Locale.ROOT));
            insert.executeUpdate();
        }
    }

    /** In the place of what was said before of their time; in the transaction of whoever calls. */
    void replaceStands(CabinetKey key, List<Stand> stands) throws SQLException {
        try (PreparedStatement delete =
                connection.prepareStatement(
                        "DELETE FROM probe_stand WHERE agent = ? AND cabinet = ? AND to_millis > ?"
                                + " AND from_millis < ?")) {
            for (Stand stand : stands) {
                bind(delete, key, stand.span());
                delete.addBatch();
            }
            delete.executeBatch();
        }
        try (PreparedStatement insert =
                connection.prepareStatement(
                        "INSERT INTO probe_stand (agent, cabinet, from_millis, to_millis, probe,"
                                + " position) VALUES (?, ?, ?, ?, ?, ?)")) {
            for (Stand stand : stands) {
                bind(insert, key, stand.span());
                insert.setString(5, stand.probe());
                insert.setString(6, stand.words());
                insert.addBatch();
            }
            insert.executeBatch();
        }
    }

    private static void bind(PreparedStatement statement, CabinetKey key, TimeSpan span)
            throws SQLException {
        statement.setString(1, key.agent().value());
        statement.setString(2, key.cabinet().value());
        statement.setLong(3, span.from().toEpochMilli());
        statement.setLong(4, span.to().toEpochMilli());
    }
}
