package io.evenwarm.monitor.store;

import io.evenwarm.message.Limits;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.monitor.history.CabinetCurves;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.CabinetSummaries;
import io.evenwarm.monitor.history.Curve;
import io.evenwarm.monitor.history.ProbeCurve;
import io.evenwarm.monitor.history.ProbeSummaries;
import io.evenwarm.monitor.history.Summaries;
import io.evenwarm.monitor.history.SummaryCurves;
import io.evenwarm.monitor.history.Tier;
import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.quantity.Temperature;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
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
        return cabinet.isEmpty() ? Optional.empty() : Extents.of(connection, cabinet.getAsLong());
    }

    /** Curves of few enough rows: of every reading, or of the finest tier that has so few. */
    CabinetCurves curves(CabinetKey key, TimeSpan span) throws SQLException {
        OptionalLong cabinet = Keys.cabinetId(connection, key);
        if (cabinet.isEmpty()) {
            return nothing(key, span);
        }
        Optional<Tier> tier = new TierChoice(connection, cabinet.getAsLong()).of(span);
        return tier.isEmpty()
                ? everyReading(key, span, cabinet.getAsLong())
                : summedUp(key, span, cabinet.getAsLong(), tier.get());
    }

    CabinetCurves everyReading(CabinetKey key, TimeSpan span) throws SQLException {
        OptionalLong cabinet = Keys.cabinetId(connection, key);
        return cabinet.isEmpty()
                ? nothing(key, span)
                : everyReading(key, span, cabinet.getAsLong());
    }

    List<ProbeSummaries> summaries(CabinetKey key, TimeSpan span, Tier tier) throws SQLException {
        OptionalLong cabinet = Keys.cabinetId(connection, key);
        List<ProbeSummaries> found = new ArrayList<>();
        if (cabinet.isPresent()) {
            TierReader reader = new TierReader(connection, tier, span);
            for (Probe probe : probes(cabinet.getAsLong())) {
                Summaries summaries = reader.read(TierTable.PROBE, probe.id);
                if (summaries.size() > 0) {
                    found.add(new ProbeSummaries(probe.name, probe.place, probe.unit, summaries));
                }
            }
        }
        return found;
    }

    CabinetSummaries cabinetSummaries(CabinetKey key, TimeSpan span, Tier tier)
            throws SQLException {
        OptionalLong cabinet = Keys.cabinetId(connection, key);
        if (cabinet.isEmpty()) {
            Summaries none = new Summaries.Builder(tier.stepMillis()).build();
            return new CabinetSummaries(none, none);
        }
        TierReader reader = new TierReader(connection, tier, span);
        return new CabinetSummaries(
                reader.read(TierTable.SET_POINT, cabinet.getAsLong()),
                reader.read(TierTable.HEATER, cabinet.getAsLong()));
    }

    private static CabinetCurves nothing(CabinetKey key, TimeSpan span) {
        return new CabinetCurves(
                key, span, List.of(), Curve.empty(), Curve.empty(), Optional.empty());
    }

    private CabinetCurves everyReading(CabinetKey key, TimeSpan span, long cabinetId)
            throws SQLException {
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
        List<ProbeCurve> curves = new ArrayList<>();
        for (Probe probe : probes(cabinetId)) {
            CurveBuilder points = readings(probe.id, span);
            if (!points.isEmpty()) {
                curves.add(new ProbeCurve(probe.name, probe.place, probe.unit, points.build()));
            }
        }
        return new CabinetCurves(
                key, span, curves, setPoint.build(), heaterOn.build(), limits(cabinetId, span));
    }

    private CabinetCurves summedUp(CabinetKey key, TimeSpan span, long cabinetId, Tier tier)
            throws SQLException {
        TierReader reader = new TierReader(connection, tier, span);
        long newest = Extents.newestRecord(connection, cabinetId);
        List<ProbeCurve> curves = new ArrayList<>();
        for (Probe probe : probes(cabinetId)) {
            Summaries summaries = reader.readForCurve(TierTable.PROBE, probe.id);
            if (summaries.size() > 0) {
                long newestOfProbe = Extents.newestReading(connection, probe.id);
                curves.add(
                        new ProbeCurve(
                                probe.name,
                                probe.place,
                                probe.unit,
                                SummaryCurves.line(summaries, newestOfProbe)));
            }
        }
        return new CabinetCurves(
                key,
                span,
                curves,
                SummaryCurves.steps(reader.readForCurve(TierTable.SET_POINT, cabinetId), newest),
                SummaryCurves.shares(reader.readForCurve(TierTable.HEATER, cabinetId), newest),
                limits(cabinetId, span));
    }

    private record Probe(long id, ProbeName name, ProbePlace place, ProbeCurve.Unit unit) {}

    private List<Probe> probes(long cabinetId) throws SQLException {
        List<Probe> probes = new ArrayList<>();
        try (PreparedStatement select =
                connection.prepareStatement(
                        "SELECT id, name, position, unit FROM probe WHERE cabinet_id = ?"
                                + " ORDER BY id")) {
            select.setLong(1, cabinetId);
            try (ResultSet rows = select.executeQuery()) {
                while (rows.next()) {
                    probes.add(
                            new Probe(
                                    rows.getLong(1),
                                    new ProbeName(rows.getString(2)),
                                    ProbePlace.of(rows.getString(3)),
                                    Ids.PERCENT.equals(rows.getString(4))
                                            ? ProbeCurve.Unit.PERCENT_RELATIVE_HUMIDITY
                                            : ProbeCurve.Unit.CELSIUS));
                }
            }
        }
        return probes;
    }

    private CurveBuilder readings(long probeId, TimeSpan span) throws SQLException {
        CurveBuilder points = new CurveBuilder();
        try (PreparedStatement select =
                connection.prepareStatement(
                        "SELECT time_millis, value FROM reading"
                                + " WHERE probe_id = ? AND time_millis >= ? AND time_millis < ?"
                                + " ORDER BY time_millis, journal_id, sequence")) {
            bindSpan(select, probeId, span);
            try (ResultSet rows = select.executeQuery()) {
                while (rows.next()) {
                    long time = rows.getLong(1);
                    double value = rows.getDouble(2);
                    // A missing value comes as 0: only then is it worth a call to ask.
                    boolean isBad = value == 0 && rows.wasNull();
                    points.add(time, isBad ? Double.NaN : value);
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
                                + " WHERE cabinet_id = ? AND time_millis >= ? AND time_millis < ? ORDER"
                                + " BY time_millis DESC LIMIT 1")) {
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
