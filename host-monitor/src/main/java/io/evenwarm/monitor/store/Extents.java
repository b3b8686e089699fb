package io.evenwarm.monitor.store;

import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.Tier;
import io.evenwarm.monitor.history.TimeSpan;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.Optional;
import java.util.OptionalLong;

/** First and last of what is stored. Each question is one step in an index. */
final class Extents {

    private static final String OF_CABINET = " FROM record WHERE cabinet_id = ?";
    private static final String OF_PROBES = " FROM probe WHERE cabinet_id = ?";

    private Extents() {}

    static boolean isClockSet(Connection connection, CabinetKey key, Instant at)
            throws SQLException {
        OptionalLong cabinetId = Keys.cabinetId(connection, key);
        return cabinetId.isEmpty()
                || number(
                                        connection,
                                        "SELECT max(time_is_provisional)"
                                                + OF_CABINET
                                                + " AND time_millis = "
                                                + at.toEpochMilli(),
                                        cabinetId.getAsLong())
                                .orElse(0)
                        == 0;
    }

    /** First to last reading of a cabinet; of those that retention removed, the coarsest tier's. */
    static Optional<TimeSpan> of(Connection connection, long cabinetId) throws SQLException {
        long first = Long.MAX_VALUE;
        long last = Long.MIN_VALUE;
        for (String sql :
                new String[] {
                    "SELECT min(time_millis)" + OF_CABINET,
                    "SELECT min((SELECT min(time_millis) FROM reading WHERE probe_id = probe.id))"
                            + OF_PROBES
                }) {
            OptionalLong found = number(connection, sql, cabinetId);
            first = Math.min(first, found.orElse(first));
        }
        if (wasThinned(connection, cabinetId)) {
            first = Math.min(first, firstOfCoarsest(connection, cabinetId).orElse(first));
        }
        for (String sql :
                new String[] {
                    "SELECT max(time_millis)" + OF_CABINET,
                    "SELECT max((SELECT max(time_millis) FROM reading WHERE probe_id = probe.id))"
                            + OF_PROBES
                }) {
            last = Math.max(last, number(connection, sql, cabinetId).orElse(last));
        }
        if (first == Long.MAX_VALUE) {
            return Optional.empty();
        }
        return Optional.of(
                new TimeSpan(
                        Instant.ofEpochMilli(first),
                        Instant.ofEpochMilli(Math.max(first, last) + 1)));
    }

    /** Time of a cabinet's newest record; far ahead when it has none. */
    static long newestRecord(Connection connection, long cabinetId) throws SQLException {
        return number(connection, "SELECT max(time_millis)" + OF_CABINET, cabinetId)
                .orElse(Long.MAX_VALUE - 1);
    }

    /** Time of a probe's newest reading; far ahead when it has none. */
    static long newestReading(Connection connection, long probeId) throws SQLException {
        return number(
                        connection,
                        "SELECT max(time_millis) FROM reading WHERE probe_id = ?",
                        probeId)
                .orElse(Long.MAX_VALUE - 1);
    }

    private static boolean wasThinned(Connection connection, long cabinetId) throws SQLException {
        return number(
                        connection,
                        "SELECT max(before_millis) FROM thinned WHERE cabinet_id = ?",
                        cabinetId)
                .isPresent();
    }

    private static OptionalLong firstOfCoarsest(Connection connection, long cabinetId)
            throws SQLException {
        return number(
                connection,
                "SELECT min((SELECT min(begin_millis) FROM probe_tier WHERE probe_id = probe.id"
                        + " AND step_seconds = "
                        + Tier.SIX_HOURS.stepSeconds()
                        + "))"
                        + OF_PROBES,
                cabinetId);
    }

    private static OptionalLong number(Connection connection, String sql, long id)
            throws SQLException {
        try (PreparedStatement select = connection.prepareStatement(sql)) {
            select.setLong(1, id);
            try (ResultSet rows = select.executeQuery()) {
                if (!rows.next()) {
                    return OptionalLong.empty();
                }
                long number = rows.getLong(1);
                return rows.wasNull() ? OptionalLong.empty() : OptionalLong.of(number);
            }
        }
    }
}
