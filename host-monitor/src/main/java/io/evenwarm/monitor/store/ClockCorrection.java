package io.evenwarm.monitor.store;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;

/**
 * Dates what came before an agent's clock was set, once it is known how far wall and monotonic time
 * of that run lie apart. Used under the writer's lock, inside its transaction.
 */
final class ClockCorrection {

    private static final String[] STEPS = {
        """
        UPDATE reading SET time_millis = r.monotonic_millis + ?1
          FROM record AS r, probe AS p
          WHERE r.boot_id = ?2 AND r.time_is_provisional = 1
            AND p.cabinet_id = r.cabinet_id
            AND reading.probe_id = p.id AND reading.time_millis = r.time_millis
            AND reading.journal_id = r.journal_id AND reading.sequence = r.sequence
        """,
        """
        UPDATE record SET time_millis = monotonic_millis + ?1, time_is_provisional = 0
          WHERE boot_id = ?2 AND time_is_provisional = 1
        """,
        """
        UPDATE event SET time_millis = monotonic_millis + ?1, time_is_provisional = 0
          WHERE boot_id = ?2 AND time_is_provisional = 1
        """,
        """
        UPDATE log_entry SET
            begin_millis = coalesce(begin_correctable_monotonic_millis + ?1, begin_millis),
            begin_correctable_monotonic_millis = NULL,
            end_millis = coalesce(end_correctable_monotonic_millis + ?1, end_millis),
            end_correctable_monotonic_millis = NULL
          WHERE boot_id = ?2 AND (begin_correctable_monotonic_millis IS NOT NULL
                                  OR end_correctable_monotonic_millis IS NOT NULL)
        """
    };

    private ClockCorrection() {}

    static void apply(Connection connection, Boot boot) throws SQLException {
        for (String sql : STEPS) {
            try (PreparedStatement update = connection.prepareStatement(sql)) {
                update.setLong(1, boot.trustedOffsetMillis().orElseThrow());
                update.setLong(2, boot.id());
                update.executeUpdate();
            }
        }
    }
}
