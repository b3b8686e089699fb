package io.evenwarm.monitor.store;

import io.evenwarm.monitor.history.Retention;
import io.evenwarm.monitor.history.Tier;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalLong;

/**
 * Removes what is older than its retention, a slice at a time. Age counts from a cabinet's newest
 * record, or from now where that is earlier: neither a wrong clock here nor one there removes
 * anything alone. What has a provisional time stays until its time is known.
 *
 * <p>Used under the writer's lock.
 */
final class Thinner {

    /** Rows of one table and owner that one slice removes: a few milliseconds' work. */
    static final int ROWS_PER_SLICE = 5_000;

    private static final String NOT_PROVISIONAL =
            " AND NOT EXISTS (SELECT 1 FROM record AS r WHERE r.cabinet_id = ?"
                    + " AND r.time_millis = reading.time_millis"
                    + " AND r.journal_id = reading.journal_id AND r.sequence = reading.sequence"
                    + " AND r.time_is_provisional = 1)";

    private final Connection connection;
    private final Retention retention;
    private final long nowMillis;

    Thinner(Connection connection, Retention retention, long nowMillis) {
        this.connection = connection;
        this.retention = retention;
        this.nowMillis = nowMillis;
    }

    /** Removes one slice everywhere; returns how many rows that were. */
    long slice() throws SQLException {
        long removed = 0;
        for (long cabinet : ids("SELECT id FROM cabinet")) {
            OptionalLong newest =
                    number("SELECT max(time_millis) FROM record WHERE cabinet_id = ?", cabinet);
            if (newest.isPresent()) {
                removed += slice(cabinet, Math.min(nowMillis, newest.getAsLong()));
            }
        }
        return removed;
    }

    private long slice(long cabinet, long referenceMillis) throws SQLException {
        List<Long> probes = ids("SELECT id FROM probe WHERE cabinet_id = " + cabinet);
        connection.setAutoCommit(false);
        long all = 0;
        long readings = removeReadings(cabinet, probes, referenceMillis);
        all += readings;
        for (Tier tier : Tier.values()) {
            long before = beforeMillis(referenceMillis, retention.days(tier));
            long removed = 0;
            for (long probe : probes) {
                removed += removeTier(TierTable.PROBE, probe, tier, before);
            }
            removed += removeTier(TierTable.SET_POINT, cabinet, tier, before);
            removed += removeTier(TierTable.HEATER, cabinet, tier, before);
            note(cabinet, tier.stepSeconds(), before, removed);
            all += removed;
        }
        connection.commit();
        connection.setAutoCommit(true);
        return all;
    }

    /** Whole stretches of the coarsest tier go: what is left of a tier is then whole, too. */
    private static long beforeMillis(long referenceMillis, int days) {
        return Tier.SIX_HOURS.beginMillis(referenceMillis - Duration.ofDays(days).toMillis());
    }

    private long removeReadings(long cabinet, List<Long> probes, long referenceMillis)
            throws SQLException {
        long before = beforeMillis(referenceMillis, retention.readingsDays());
        long removed = 0;
        for (long probe : probes) {
            long end =
                    endOfSlice(
                            "SELECT time_millis FROM reading WHERE probe_id = ?"
                                    + " AND time_millis < ? ORDER BY time_millis",
                            before,
                            probe,
                            before);
            String sql =
                    "DELETE FROM reading WHERE probe_id = ? AND time_millis < ?" + NOT_PROVISIONAL;
            long gone = update(sql, probe, end, cabinet);
            removed += gone == 0 && end < before ? update(sql, probe, before, cabinet) : gone;
        }
        long end =
                endOfSlice(
                        "SELECT time_millis FROM record WHERE cabinet_id = ?"
                                + " AND time_is_provisional = 0 AND time_millis < ?"
                                + " ORDER BY time_millis",
                        before,
                        cabinet,
                        before);
        removed +=
                update(
                        "DELETE FROM record WHERE cabinet_id = ? AND time_millis < ?"
                                + " AND time_is_provisional = 0",
                        cabinet,
                        end);
        note(cabinet, TierChoice.READINGS_STEP_SECONDS, before, removed);
        return removed;
    }

    private long removeTier(TierTable table, long owner, Tier tier, long before)
            throws SQLException {
        String from =
                " FROM "
                        + table.table()
                        + " WHERE "
                        + table.owner()
                        + " = ? AND step_seconds = ? AND begin_millis < ?";
        long end =
                endOfSlice(
                        "SELECT begin_millis" + from + " ORDER BY begin_millis",
                        before,
                        owner,
                        tier.stepSeconds(),
                        before);
        return update("DELETE" + from, owner, tier.stepSeconds(), end);
    }

    /** Remembers that what is before is not whole any more. */
    private void note(long cabinet, int stepSeconds, long before, long removed)
            throws SQLException {
        if (removed > 0) {
            update(
                    "INSERT INTO thinned (cabinet_id, step_seconds, before_millis)"
                            + " VALUES (?, ?, ?) ON CONFLICT (cabinet_id, step_seconds)"
                            + " DO UPDATE SET before_millis = excluded.before_millis"
                            + " WHERE thinned.before_millis < excluded.before_millis",
                    cabinet,
                    stepSeconds,
                    before);
        }
    }

    /** The time of the first row that is not in this slice. */
    private long endOfSlice(String sql, long before, long... parameters) throws SQLException {
        return number(sql + " LIMIT 1 OFFSET " + ROWS_PER_SLICE, parameters).orElse(before);
    }

    private List<Long> ids(String sql) throws SQLException {
        List<Long> found = new ArrayList<>();
        try (PreparedStatement select = connection.prepareStatement(sql);
                ResultSet rows = select.executeQuery()) {
            while (rows.next()) {
                found.add(rows.getLong(1));
            }
        }
        return found;
    }

    private OptionalLong number(String sql, long... parameters) throws SQLException {
        try (PreparedStatement select = connection.prepareStatement(sql)) {
            bind(select, parameters);
            try (ResultSet rows = select.executeQuery()) {
                if (!rows.next()) {
                    return OptionalLong.empty();
                }
                long number = rows.getLong(1);
                return rows.wasNull() ? OptionalLong.empty() : OptionalLong.of(number);
            }
        }
    }

    private long update(String sql, long... parameters) throws SQLException {
        try (PreparedStatement statement = connection.prepareStatement(sql)) {
            bind(statement, parameters);
            return statement.executeUpdate();
        }
    }

    private static void bind(PreparedStatement statement, long... parameters) throws SQLException {
        for (int i = 0; i < parameters.length; i++) {
            statement.setLong(i + 1, parameters[i]);
        }
    }
}
