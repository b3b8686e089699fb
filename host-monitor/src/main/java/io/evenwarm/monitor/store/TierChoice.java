package io.evenwarm.monitor.store;

import io.evenwarm.monitor.history.HistoryQueries;
import io.evenwarm.monitor.history.Tier;
import io.evenwarm.monitor.history.TimeSpan;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.Optional;

/**
 * Chooses what a curve is made of: every reading while no probe has more than {@link
 * HistoryQueries#CURVE_ROWS_MAX} in the span, else the finest tier that has no more. What retention
 * has thinned within the span is not chosen.
 */
final class TierChoice {

    /** What {@code thinned} calls the readings themselves. */
    static final int READINGS_STEP_SECONDS = 0;

    private final Connection connection;
    private final long cabinetId;

    TierChoice(Connection connection, long cabinetId) {
        this.connection = connection;
        this.cabinetId = cabinetId;
    }

    /** Empty: every reading. */
    Optional<Tier> of(TimeSpan span) throws SQLException {
        long from = Keys.ceilingMillis(span.from());
        long to = Keys.ceilingMillis(span.to());
        if (isWhole(READINGS_STEP_SECONDS, from) && hasFewReadings(from, to)) {
            return Optional.empty();
        }
        for (Tier tier : Tier.values()) {
            if (isWhole(tier.stepSeconds(), from) && hasFewRows(tier, from, to)) {
                return Optional.of(tier);
            }
        }
        return Optional.of(Tier.SIX_HOURS);
    }

    private boolean isWhole(int stepSeconds, long from) throws SQLException {
        return count(
                        "SELECT count(*) FROM thinned WHERE cabinet_id = ? AND step_seconds = ?"
                                + " AND before_millis > ?",
                        cabinetId,
                        stepSeconds,
                        from)
                == 0;
    }

    private boolean hasFewReadings(long from, long to) throws SQLException {
        return fewInEach(
                "SELECT count(*) FROM (SELECT 1 FROM record WHERE cabinet_id = ?"
                        + " AND time_millis >= ? AND time_millis < ?",
                "SELECT max((SELECT count(*) FROM (SELECT 1 FROM reading WHERE probe_id = probe.id"
                        + " AND time_millis >= ? AND time_millis < ?",
                from,
                to);
    }

    private boolean hasFewRows(Tier tier, long from, long to) throws SQLException {
        String step = " AND step_seconds = " + tier.stepSeconds();
        return fewInEach(
                "SELECT count(*) FROM (SELECT 1 FROM set_point_tier WHERE cabinet_id = ?"
                        + step
                        + " AND begin_millis > ? AND begin_millis < ?",
                "SELECT max((SELECT count(*) FROM (SELECT 1 FROM probe_tier"
                        + " WHERE probe_id = probe.id"
                        + step
                        + " AND begin_millis > ? AND begin_millis < ?",
                from < Long.MIN_VALUE + tier.stepMillis() ? from : from - tier.stepMillis(),
                to);
    }

    /** Counting ends as soon as there are too many. */
    private boolean fewInEach(String ofCabinet, String ofProbes, long from, long to)
            throws SQLException {
        int max = HistoryQueries.CURVE_ROWS_MAX;
        String end = " LIMIT " + (max + 1) + ") AS found)";
        String cabinets = ofCabinet + end.substring(0, end.length() - 1);
        String probes = ofProbes + end + ") FROM probe WHERE cabinet_id = ?";
        return count(cabinets, cabinetId, from, to) <= max
                && count(probes, from, to, cabinetId) <= max;
    }

    private long count(String sql, long... parameters) throws SQLException {
        try (PreparedStatement select = connection.prepareStatement(sql)) {
            for (int i = 0; i < parameters.length; i++) {
                select.setLong(i + 1, parameters[i]);
            }
            try (ResultSet rows = select.executeQuery()) {
                rows.next();
                return rows.getLong(1);
            }
        }
    }
}
