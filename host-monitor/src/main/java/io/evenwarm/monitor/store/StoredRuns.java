package io.evenwarm.monitor.store;

import io.evenwarm.monitor.history.MonitorRun;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** The monitor's own runs. Any thread may call it; writers take turns at the store. */
public final class StoredRuns {

    private final HistoryStore store;

    StoredRuns(HistoryStore store) {
        this.store = store;
    }

    /**
     * A run begins now.
     *
     * @return its number, for what is said of it later
     */
    public long begin(Instant now) throws StoreException {
        return store.write(
                connection -> {
                    try (PreparedStatement insert =
                            connection.prepareStatement(
                                    "INSERT INTO monitor_run (started_millis, last_alive_millis)"
                                            + " VALUES (?, ?) RETURNING id")) {
                        insert.setLong(1, now.toEpochMilli());
                        insert.setLong(2, now.toEpochMilli());
                        try (ResultSet rows = insert.executeQuery()) {
                            rows.next();
                            return rows.getLong(1);
                        }
                    }
                });
    }

    /** It lives now. */
    public void alive(long run, Instant now) throws StoreException {
        set("last_alive_millis", run, now);
    }

    /** It ends now, as it was asked to. */
    public void end(long run, Instant now) throws StoreException {
        set("ended_millis", run, now);
    }

    private void set(String column, long run, Instant now) throws StoreException {
        int unusedCount =
                store.write(
                        connection -> {
                            try (PreparedStatement update =
                                    connection.prepareStatement(
                                            "UPDATE monitor_run SET "
                                                    + column
                                                    + " = ? WHERE id = ?")) {
                                update.setLong(1, now.toEpochMilli());
                                update.setLong(2, run);
                                return update.executeUpdate();
                            }
                        });
    }

    /** All runs, in the order in which they began. */
    static List<MonitorRun> all(Connection connection) throws SQLException {
        List<MonitorRun> runs = new ArrayList<>();
        try (PreparedStatement select =
                        connection.prepareStatement(
                                "SELECT started_millis, last_alive_millis, ended_millis FROM"
                                        + " monitor_run ORDER BY id");
                ResultSet rows = select.executeQuery()) {
            while (rows.next()) {
                Optional<Instant> ended = Optional.of(Instant.ofEpochMilli(rows.getLong(3)));
                if (rows.wasNull()) {
                    ended = Optional.empty();
                }
                runs.add(
                        new MonitorRun(
                                Instant.ofEpochMilli(rows.getLong(1)),
                                Instant.ofEpochMilli(rows.getLong(2)),
                                ended));
            }
        }
        return runs;
    }
}
