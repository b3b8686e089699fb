package io.evenwarm.monitor.store;

import io.evenwarm.message.Limits;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.monitor.history.CabinetCurves;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.Curve;
import io.evenwarm.monitor.history.ProbeCurve;
import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.quantity.Temperature;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;

/** Reads curves on a connection that is lent to it for one query. */
final class CurveReader {

    private final Connection connection;

    CurveReader(Connection connection) {
        this.connection = connection;
    }

    List<CabinetKey> cabinets() throws SQLException {
        List<CabinetKey> found = new ArrayList<>();
        try (PreparedStatement select =
                        connection.prepareStatement(
                                "SELECT agent.name, cabinet.name FROM cabinet"
                                        + " JOIN agent ON agent.id = cabinet.agent_id");
                ResultSet rows = select.executeQuery()) {
            while (rows.next()) {
                found.add(Keys.of(rows.getString(1), rows.getString(2)));
            }
        }
        found.sort(null);
        return found;
    }

    Optional<TimeSpan> extent(CabinetKey key) throws SQLException {
        OptionalLong cabinet = Keys.cabinetId(connection, key);
        if (cabinet.isEmpty()) {
            return Optional.empty();
        }
        // Two statements: only alone does each of min and max use the index.
        try (PreparedStatement select =
                connection.prepareStatement(
                        "SELECT (SELECT min(time_millis) FROM record WHERE cabinet_id = ?1),"
                                + " (SELECT max(time_millis) FROM record WHERE cabinet_id = ?1)")) {
            select.setLong(1, cabinet.getAsLong());
            try (ResultSet rows = select.executeQuery()) {
                rows.next();
                long first = rows.getLong(1);
                if (rows.wasNull()) {
                    return Optional.empty();
                }
                return Optional.of(
                        new TimeSpan(
                                Instant.ofEpochMilli(first),
                                Instant.ofEpochMilli(rows.getLong(2) + 1)));
            }
        }
    }

    CabinetCurves curves(CabinetKey key, TimeSpan span) throws SQLException {
        OptionalLong cabinet = Keys.cabinetId(connection, key);
        if (cabinet.isEmpty()) {
            return new CabinetCurves(
                    key, span, List.of(), Curve.empty(), Curve.empty(), Optional.empty());
        }
        long cabinetId = cabinet.getAsLong();
        CurveBuilder setPoint = new CurveBuilder();
        CurveBuilder heaterOn = new CurveBuilder();
        try (PreparedStatement select =
                connection.prepareStatement(
                        "SELECT time_millis, set_point_celsius, heater_on_fraction FROM record"
                                + " WHERE cabinet_id = ? AND time_millis >= ? AND time_millis < ?"
                                + " ORDER BY time_millis, journal_id, sequence")) {
            bindSpan(select, cabinetId, span);
            try (ResultSet rows = select.executeQuery()) {
                while (rows.next()) {
                    long time = rows.getLong(1);
                    setPoint.add(time, rows.getDouble(2));
                    heaterOn.add(time, rows.getDouble(3));
                }
            }
        }
        return new CabinetCurves(
                key,
                span,
                probes(cabinetId, span),
                setPoint.build(),
                heaterOn.build(),
                limits(cabinetId, span));
    }

    private List<ProbeCurve> probes(long cabinetId, TimeSpan span) throws SQLException {
        List<ProbeCurve> curves = new ArrayList<>();
        try (PreparedStatement select =
                connection.prepareStatement(
                        "SELECT id, name, position, unit FROM probe WHERE cabinet_id = ?"
                                + " ORDER BY id")) {
            select.setLong(1, cabinetId);
            try (ResultSet rows = select.executeQuery()) {
                while (rows.next()) {
                    CurveBuilder points = readings(rows.getLong(1), span);
                    if (!points.isEmpty()) {
                        curves.add(
                                new ProbeCurve(
                                        new ProbeName(rows.getString(2)),
                                        ProbePlace.of(rows.getString(3)),
                                        Ids.PERCENT.equals(rows.getString(4))
                                                ? ProbeCurve.Unit.PERCENT_RELATIVE_HUMIDITY
                                                : ProbeCurve.Unit.CELSIUS,
                                        points.build()));
                    }
                }
            }
        }
        return curves;
    }

    private CurveBuilder readings(long probeId, TimeSpan span) throws SQLException {
        CurveBuilder points = new CurveBuilder();
        // A missing value comes as infinity, which no reading can be: one call fewer for each row
        // than to ask whether it was null.
        try (PreparedStatement select =
                connection.prepareStatement(
                        "SELECT time_millis, ifnull(value, 9e999) FROM reading"
                                + " WHERE probe_id = ? AND time_millis >= ? AND time_millis < ?"
                                + " ORDER BY time_millis, journal_id, sequence")) {
            bindSpan(select, probeId, span);
            try (ResultSet rows = select.executeQuery()) {
                while (rows.next()) {
                    double value = rows.getDouble(2);
                    points.add(rows.getLong(1), Double.isInfinite(value) ? Double.NaN : value);
                }
            }
        }
        return points;
    }

    private Optional<Limits> limits(long cabinetId, TimeSpan span) throws SQLException {
        try (PreparedStatement select =
                connection.prepareStatement(
                        "SELECT too_cold_celsius, too_warm_celsius, cut_off_celsius,"
                                + " ceiling_celsius FROM record JOIN limits ON limits.id = limits_id"
                                + " WHERE cabinet_id = ? AND time_millis >= ? AND time_millis < ?"
                                + " ORDER BY time_millis DESC LIMIT 1")) {
            bindSpan(select, cabinetId, span);
            try (ResultSet rows = select.executeQuery()) {
                return rows.next()
                        ? Optional.of(
                                new Limits(
                                        Temperature.ofCelsius(rows.getDouble(1)),
                                        Temperature.ofCelsius(rows.getDouble(2)),
                                        Temperature.ofCelsius(rows.getDouble(3)),
                                        Temperature.ofCelsius(rows.getDouble(4))))
                        : Optional.empty();
            }
        }
    }

    private static void bindSpan(PreparedStatement select, long id, TimeSpan span)
            throws SQLException {
        select.setLong(1, id);
        select.setLong(2, Keys.ceilingMillis(span.from()));
        select.setLong(3, Keys.ceilingMillis(span.to()));
    }
}
