package io.evenwarm.monitor.app;

import io.evenwarm.monitor.store.HistoryStore;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/** What the monitor's store says of alarms and notices, read from outside while it runs. */
final class FloodStore {

    private final String url;

    FloodStore(Path data) {
        url = "jdbc:sqlite:file:" + data.resolve(HistoryStore.FILE_NAME) + "?mode=ro";
    }

    /**
     * An alarm came into a person's view, or a person acknowledged it.
     *
     * @param event as notices call it
     */
    record Change(long number, Instant at, String event, String subject, String code) {}

    /** What a notice is, by its id. */
    record Told(String event, int revision) {}

    @FunctionalInterface
    private interface Row<T> {
        T of(ResultSet row) throws SQLException;
    }

    private <T> List<T> ask(String query, Row<T> row) {
        try (Connection connection = DriverManager.getConnection(url);
                Statement statement = connection.createStatement();
                ResultSet rows = statement.executeQuery(query)) {
            List<T> all = new ArrayList<>();
            while (rows.next()) {
                all.add(row.of(rows));
            }
            return all;
        } catch (SQLException e) {
            throw new AssertionError(query, e);
        }
    }

    private List<Change> changes(String where) {
        return ask(
                "SELECT number, at_millis, event, subject, code FROM alarm_change WHERE "
                        + where
                        + " ORDER BY number",
                row ->
                        new Change(
                                row.getLong(1),
                                Instant.ofEpochMilli(row.getLong(2)),
                                "alarm-" + row.getLong(3),
                                row.getString(4),
                                row.getString(5)));
    }

    /** What people had to hear of. */
    List<Change> annunciations() {
        return changes("to_state = 'unacknowledged'");
    }

    /** What people acknowledged. */
    List<Change> acknowledgements() {
        return changes("cause = 'acknowledged'");
    }

    Map<String, Told> notices() {
        Map<String, Told> notices = new HashMap<>();
        ask(
                "SELECT notice_uuid, event, revision FROM notice",
                row -> notices.put(row.getString(1), new Told(row.getString(2), row.getInt(3))));
        return notices;
    }

    /** What still waits. */
    List<String> pending() {
        return ask(
                "SELECT event, revision, channel, tries, words FROM notice_delivery JOIN notice ON"
                        + " notice.id = notice_id WHERE ended_millis IS NULL",
                row ->
                        row.getString(1)
                                + " "
                                + row.getInt(2)
                                + " by "
                                + row.getString(3)
                                + ", tried "
                                + row.getInt(4)
                                + ": "
                                + row.getString(5));
    }

    /** Whether nothing is to be delivered, and no alarm's condition is there. */
    boolean isQuiet() {
        return pending().isEmpty()
                && ask("SELECT count(*) FROM notice_event", row -> row.getLong(1)).get(0) == 0;
    }
}
