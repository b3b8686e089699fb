package io.evenwarm.monitor.store;

import io.evenwarm.monitor.history.Tub;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** The list of tubs, on a connection that is lent to it. */
final class Tubs {

    private static final String SELECT =
            "SELECT name, agent, cabinet, shelf, mass_grams, contents, from_millis, to_millis"
                    + " FROM tub";

    private final Connection connection;

    Tubs(Connection connection) {
        this.connection = connection;
    }

    /** Those that stand there now, or all there ever were; by cabinet, then the oldest first. */
    List<Tub> list(boolean all) throws SQLException {
        List<Tub> tubs = new ArrayList<>();
        try (PreparedStatement select =
                        connection.prepareStatement(
                                SELECT
                                        + (all ? "" : " WHERE to_millis IS NULL")
                                        + " ORDER BY agent, cabinet, from_millis, id");
                ResultSet rows = select.executeQuery()) {
            while (rows.next()) {
                tubs.add(tub(rows));
            }
        }
        return tubs;
    }

    private static Tub tub(ResultSet row) throws SQLException {
        Optional<Instant> to = Optional.of(Instant.ofEpochMilli(row.getLong(8)));
        if (row.wasNull()) {
            to = Optional.empty();
        }
        return new Tub(
                row.getString(1),
                Keys.of(row.getString(2), row.getString(3)),
                row.getString(4),
                row.getDouble(5),
                row.getString(6),
                Instant.ofEpochMilli(row.getLong(7)),
                to);
    }

    /** The one of that name that stands somewhere now. */
    Optional<Tub> thereNow(String name) throws SQLException {
        try (PreparedStatement select =
                connection.prepareStatement(SELECT + " WHERE name = ? AND to_millis IS NULL")) {
            select.setString(1, name);
            try (ResultSet rows = select.executeQuery()) {
                return rows.next() ? Optional.of(tub(rows)) : Optional.empty();
            }
        }
    }

    void add(Tub tub) throws SQLException, StoreException {
        Optional<Tub> there = thereNow(tub.name());
        if (there.isPresent()) {
            throw new StoreException(
                    "tub \""
                            + tub.name()
                            + "\" stands in "
                            + there.get().key().agent()
                            + " / "
                            + there.get().key().cabinet()
                            + " since "
                            + there.get().from()
                            + ": end it first (evenwarm tubs end), or name this one otherwise");
        }
        try (PreparedStatement insert =
                connection.prepareStatement(
                        "INSERT INTO tub (name, agent, cabinet, shelf, mass_grams, contents,"
                                + " from_millis) VALUES (?, ?, ?, ?, ?, ?, ?)")) {
            insert.setString(1, tub.name());
            insert.setString(2, tub.key().agent().value());
            insert.setString(3, tub.key().cabinet().value());
            insert.setString(4, tub.shelf());
            insert.setDouble(5, tub.massGrams());
            insert.setString(6, tub.contents());
            insert.setLong(7, tub.from().toEpochMilli());
            insert.executeUpdate();
        }
    }

    void end(String name, Instant to) throws SQLException, StoreException {
        Optional<Tub> there = thereNow(name);
        if (there.isEmpty()) {
            throw new StoreException(
                    "no tub \""
                            + name
                            + "\" stands anywhere now: evenwarm tubs lists those that do");
        }
        if (to.isBefore(there.get().from())) {
            throw new StoreException(
                    "tub \""
                            + name
                            + "\" came at "
                            + there.get().from()
                            + " and can't have gone at "
                            + to);
        }
        try (PreparedStatement update =
                connection.prepareStatement(
                        "UPDATE tub SET to_millis = ? WHERE name = ? AND to_millis IS NULL")) {
            update.setLong(1, to.toEpochMilli());
            update.setString(2, name);
            update.executeUpdate();
        }
    }
}
