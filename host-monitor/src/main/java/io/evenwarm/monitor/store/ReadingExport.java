package io.evenwarm.monitor.store;

import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.Reading;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.ProbeCurve;
import io.evenwarm.monitor.history.ReadingFilter;
import io.evenwarm.monitor.history.ReadingSink;
import io.evenwarm.monitor.history.StoredReading;
import java.io.IOException;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.Optional;
import java.util.OptionalDouble;
import org.jspecify.annotations.Nullable;

/** Hands out stored readings, probe by probe, oldest first, as of one moment. */
final class ReadingExport {

    private static final int FETCH_ROWS = 10_000;

    private final Connection connection;

    ReadingExport(Connection connection) {
        this.connection = connection;
    }

    /** Returns how many there were. */
    long run(ReadingFilter filter, ReadingSink sink) throws SQLException, IOException {
        connection.setAutoCommit(false);
        long count = 0;
        try (PreparedStatement select =
                        connection.prepareStatement(
                                "SELECT agent.name, cabinet.name, probe.name, position, unit,"
                                        + " probe.id FROM probe JOIN cabinet ON cabinet.id = cabinet_id"
                                        + " JOIN agent ON agent.id = agent_id ORDER BY agent.name,"
                                        + " cabinet.name, probe.id");
                ResultSet rows = select.executeQuery()) {
            while (rows.next()) {
                CabinetKey key = Keys.of(rows.getString(1), rows.getString(2));
                if (filter.agent().map(key.agent()::equals).orElse(true)
                        && filter.cabinet().map(key.cabinet()::equals).orElse(true)) {
                    count += readings(filter, key, rows, sink);
                }
            }
        }
        connection.rollback();
        connection.setAutoCommit(true);
        return count;
    }

    private long readings(ReadingFilter filter, CabinetKey key, ResultSet probe, ReadingSink sink)
            throws SQLException, IOException {
        ProbeName name = new ProbeName(probe.getString(3));
        ProbePlace place = ProbePlace.of(probe.getString(4));
        Optional<ProbeCurve.Unit> unit =
                Optional.ofNullable(probe.getString(5))
                        .map(
                                word ->
                                        word.equals(Ids.PERCENT)
                                                ? ProbeCurve.Unit.PERCENT_RELATIVE_HUMIDITY
                                                : ProbeCurve.Unit.CELSIUS);
        long count = 0;
        try (PreparedStatement select =
                connection.prepareStatement(
                        "SELECT time_millis, value, word FROM reading"
                                + " LEFT JOIN word ON word.id = doubt_word"
                                + " WHERE probe_id = ? AND time_millis >= ? AND time_millis < ?"
                                + " ORDER BY time_millis, journal_id, sequence")) {
            select.setFetchSize(FETCH_ROWS);
            select.setLong(1, probe.getLong(6));
            select.setLong(2, Keys.ceilingMillis(filter.span().from()));
            select.setLong(3, Keys.ceilingMillis(filter.span().to()));
            try (ResultSet rows = select.executeQuery()) {
                while (rows.next()) {
                    double value = rows.getDouble(2);
                    boolean isBad = rows.wasNull();
                    sink.accept(
                            new StoredReading(
                                    key,
                                    name,
                                    place,
                                    unit,
                                    rows.getLong(1),
                                    isBad ? OptionalDouble.empty() : OptionalDouble.of(value),
                                    doubt(rows.getString(3))));
                    count++;
                }
            }
        }
        return count;
    }

    private static Optional<Reading.Doubt> doubt(@Nullable String word) {
        return word == null ? Optional.empty() : Optional.of(Reading.Doubt.valueOf(word));
    }
}
