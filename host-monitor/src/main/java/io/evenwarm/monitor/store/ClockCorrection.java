package io.evenwarm.monitor.store;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;

/**
 * Dates what came before an agent's clock was set, once it is known how far wall and monotonic time
 * of that run lie apart: readings, tiers, records, events and log move together. Used under the
 * writer's lock, inside its transaction, when everything that was gathered for the tiers is in
 * them.
 */
final class ClockCorrection {

    private static final String PROBES =
            """
            SELECT id FROM probe WHERE cabinet_id IN
              (SELECT cabinet_id FROM record WHERE boot_id = ? AND time_is_provisional = 1)
            """;

    private static final String READINGS_OF_PROBE =
            """
            SELECT r.time_millis, r.monotonic_millis, reading.value
              FROM record AS r JOIN probe AS p ON p.cabinet_id = r.cabinet_id
              JOIN reading ON reading.probe_id = p.id AND reading.time_millis = r.time_millis
                AND reading.journal_id = r.journal_id AND reading.sequence = r.sequence
              WHERE r.boot_id = ? AND r.time_is_provisional = 1 AND p.id = ?
            """;

    private static final String MOVE_READINGS_OF_PROBE =
            """
            UPDATE reading SET time_millis = r.monotonic_millis + ?
              FROM record AS r, probe AS p
              WHERE r.boot_id = ? AND r.time_is_provisional = 1 AND p.id = ?
                AND p.cabinet_id = r.cabinet_id
                AND reading.probe_id = p.id AND reading.time_millis = r.time_millis
                AND reading.journal_id = r.journal_id AND reading.sequence = r.sequence
            """;

    private static final String RECORDS =
            """
            SELECT time_millis, monotonic_millis, cabinet_id, set_point_celsius, heater_on_fraction
              FROM record WHERE boot_id = ? AND time_is_provisional = 1
            """;

    private static final String[] MOVE_THE_REST = {
        """
        UPDATE record SET time_millis = monotonic_millis + ?, time_is_provisional = 0
          WHERE boot_id = ? AND time_is_provisional = 1
        """,
        """
        UPDATE event SET time_millis = monotonic_millis + ?, time_is_provisional = 0
          WHERE boot_id = ? AND time_is_provisional = 1
        """
    };

    private static final String MOVE_LOG =
            """
            UPDATE log_entry SET
                begin_millis = coalesce(begin_correctable_monotonic_millis + ?, begin_millis),
                begin_correctable_monotonic_millis = NULL,
                end_millis = coalesce(end_correctable_monotonic_millis + ?, end_millis),
                end_correctable_monotonic_millis = NULL
              WHERE boot_id = ? AND (begin_correctable_monotonic_millis IS NOT NULL
                                      OR end_correctable_monotonic_millis IS NOT NULL)
            """;

    private final Connection connection;
    private final TierWriter tiers;
    private final long bootId;
    private final long offsetMillis;

    private ClockCorrection(Connection connection, TierWriter tiers, Boot boot) {
        this.connection = connection;
        this.tiers = tiers;
        bootId = boot.id();
        offsetMillis = boot.trustedOffsetMillis().orElseThrow();
    }

    static void apply(Connection connection, TierWriter tiers, Boot boot) throws SQLException {
        ClockCorrection correction = new ClockCorrection(connection, tiers, boot);
        for (long probeId : correction.probes()) {
            correction.moveReadings(probeId);
        }
        correction.moveRecords();
    }

    private List<Long> probes() throws SQLException {
        List<Long> found = new ArrayList<>();
        try (PreparedStatement select = connection.prepareStatement(PROBES)) {
            select.setLong(1, bootId);
            try (ResultSet rows = select.executeQuery()) {
                while (rows.next()) {
                    found.add(rows.getLong(1));
                }
            }
        }
        return found;
    }

    private void moveReadings(long probeId) throws SQLException {
        TierWriter.Sums from = new TierWriter.Sums();
        TierWriter.Sums to = new TierWriter.Sums();
        try (PreparedStatement select = connection.prepareStatement(READINGS_OF_PROBE)) {
            select.setLong(1, bootId);
            select.setLong(2, probeId);
            try (ResultSet rows = select.executeQuery()) {
                while (rows.next()) {
                    long before = rows.getLong(1);
                    long now = rows.getLong(2) + offsetMillis;
                    double value = rows.getDouble(3);
                    if (rows.wasNull()) {
                        from.addBad(TierTable.PROBE, probeId, before);
                        to.addBad(TierTable.PROBE, probeId, now);
                    } else {
                        from.add(TierTable.PROBE, probeId, before, value);
                        to.add(TierTable.PROBE, probeId, now, value);
                    }
                }
            }
        }
        try (PreparedStatement update = connection.prepareStatement(MOVE_READINGS_OF_PROBE)) {
            update.setLong(1, offsetMillis);
            update.setLong(2, bootId);
            update.setLong(3, probeId);
            update.executeUpdate();
        }
        tiers.move(from, to);
    }

    private void moveRecords() throws SQLException {
        TierWriter.Sums from = new TierWriter.Sums();
        TierWriter.Sums to = new TierWriter.Sums();
        try (PreparedStatement select = connection.prepareStatement(RECORDS)) {
            select.setLong(1, bootId);
            try (ResultSet rows = select.executeQuery()) {
                while (rows.next()) {
                    long before = rows.getLong(1);
                    long now = rows.getLong(2) + offsetMillis;
                    long cabinet = rows.getLong(3);
                    from.add(TierTable.SET_POINT, cabinet, before, rows.getDouble(4));
                    to.add(TierTable.SET_POINT, cabinet, now, rows.getDouble(4));
                    from.add(TierTable.HEATER, cabinet, before, rows.getDouble(5));
                    to.add(TierTable.HEATER, cabinet, now, rows.getDouble(5));
                }
            }
        }
        for (String sql : MOVE_THE_REST) {
            try (PreparedStatement update = connection.prepareStatement(sql)) {
                update.setLong(1, offsetMillis);
                update.setLong(2, bootId);
                update.executeUpdate();
            }
        }
        try (PreparedStatement update = connection.prepareStatement(MOVE_LOG)) {
            update.setLong(1, offsetMillis);
            update.setLong(2, offsetMillis);
            update.setLong(3, bootId);
            update.executeUpdate();
        }
        tiers.move(from, to);
    }
}
