package io.evenwarm.monitor.store;

import io.evenwarm.monitor.history.Tier;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * Verifies a store: the database's own structure, that every tier says what the readings say, and
 * that no record lies beyond what its journal counts as stored. Reads only, as of one moment, also
 * while a monitor writes.
 */
final class StoreCheck {

    /** Further faults are counted only. */
    private static final int WORDS_MAX = 50;

    /** Rows that a server sends at once. */
    private static final int FETCH_ROWS = 10_000;

    private final Connection connection;
    private final List<String> words = new ArrayList<>();
    private long faults;
    private long readings;
    private long stretches;

    StoreCheck(Connection connection) {
        this.connection = connection;
    }

    StoreReport run(Database database) throws SQLException {
        connection.setAutoCommit(false);
        database.damage(connection).forEach(this::fault);
        if (faults == 0) {
            journals();
            for (TierTable table : TierTable.values()) {
                for (Map.Entry<Long, Long> owner : owners(table).entrySet()) {
                    check(table, owner.getKey(), owner.getValue());
                }
            }
        }
        connection.rollback();
        connection.setAutoCommit(true);
        return new StoreReport(words, faults, readings, stretches);
    }

    private void fault(String text) {
        faults++;
        if (words.size() < WORDS_MAX) {
            words.add(text);
        }
    }

    private void journals() throws SQLException {
        try (PreparedStatement select =
                        connection.prepareStatement(
                                "SELECT agent.name, journal.name, last_sequence,"
                                        + " max(record.sequence) FROM journal"
                                        + " JOIN agent ON agent.id = agent_id"
                                        + " JOIN record ON record.journal_id = journal.id"
                                        + " GROUP BY agent.name, journal.name, last_sequence"
                                        + " HAVING max(record.sequence) > last_sequence");
                ResultSet rows = select.executeQuery()) {
            while (rows.next()) {
                fault(
                        "journal "
                                + rows.getString(2)
                                + " of "
                                + rows.getString(1)
                                + ": expected no record after "
                                + rows.getLong(3)
                                + " but found "
                                + rows.getLong(4));
            }
        }
    }

    /** Each owner of rows, with its cabinet. */
    private Map<Long, Long> owners(TierTable table) throws SQLException {
        Map<Long, Long> found = new HashMap<>();
        String sql =
                table == TierTable.PROBE
                        ? "SELECT id, cabinet_id FROM probe"
                        : "SELECT id, id FROM cabinet";
        try (PreparedStatement select = connection.prepareStatement(sql);
                ResultSet rows = select.executeQuery()) {
            while (rows.next()) {
                found.put(rows.getLong(1), rows.getLong(2));
            }
        }
        return found;
    }

    private void check(TierTable table, long owner, long cabinet) throws SQLException {
        long from = wholeFrom(cabinet, TierChoice.READINGS_STEP_SECONDS);
        try (PreparedStatement finer = connection.prepareStatement(table.readingsSql());
                PreparedStatement tier = connection.prepareStatement(table.selectSql())) {
            finer.setLong(1, owner);
            finer.setLong(2, from);
            compare(table, owner, Tier.MINUTE, finer, true, tier, from);
        }
        for (Tier coarse : Tier.all()) {
            Optional<Tier> finerTier = coarse.finer();
            if (finerTier.isEmpty()) {
                continue;
            }
            Tier fine = finerTier.get();
            long whole = wholeFrom(cabinet, fine.stepSeconds());
            try (PreparedStatement finer = connection.prepareStatement(table.selectSql());
                    PreparedStatement tier = connection.prepareStatement(table.selectSql())) {
                bind(finer, owner, fine, whole);
                compare(table, owner, coarse, finer, false, tier, whole);
            }
        }
    }

    private long wholeFrom(long cabinet, int stepSeconds) throws SQLException {
        try (PreparedStatement select =
                connection.prepareStatement(
                        "SELECT before_millis FROM thinned WHERE cabinet_id = ?"
                                + " AND step_seconds = ?")) {
            select.setLong(1, cabinet);
            select.setLong(2, stepSeconds);
            try (ResultSet rows = select.executeQuery()) {
                return rows.next() ? rows.getLong(1) : Long.MIN_VALUE;
            }
        }
    }

    private static void bind(PreparedStatement select, long owner, Tier tier, long from)
            throws SQLException {
        select.setLong(1, owner);
        select.setLong(2, tier.stepSeconds());
        select.setLong(3, from);
        select.setLong(4, Long.MAX_VALUE);
    }

    /** Walks along both, stretch by stretch. */
    private void compare(
            TierTable table,
            long owner,
            Tier tier,
            PreparedStatement finerSelect,
            boolean finerIsReadings,
            PreparedStatement tierSelect,
            long from)
            throws SQLException {
        bind(tierSelect, owner, tier, from);
        finerSelect.setFetchSize(FETCH_ROWS);
        tierSelect.setFetchSize(FETCH_ROWS);
        try (ResultSet finer = finerSelect.executeQuery();
                ResultSet stored = tierSelect.executeQuery()) {
            boolean more = finer.next();
            boolean isStored = stored.next();
            while (more || isStored) {
                long begin =
                        Math.min(
                                more ? tier.beginMillis(finer.getLong(1)) : Long.MAX_VALUE,
                                isStored ? stored.getLong(1) : Long.MAX_VALUE);
                Bucket expected = new Bucket();
                while (more && tier.beginMillis(finer.getLong(1)) == begin) {
                    add(expected, finer, finerIsReadings);
                    more = finer.next();
                }
                Bucket found = new Bucket();
                if (isStored && stored.getLong(1) == begin) {
                    add(found, stored, false);
                    isStored = stored.next();
                }
                stretches++;
                if (!expected.equals(found)) {
                    fault(
                            table.table()
                                    + ", "
                                    + table.owner()
                                    + " "
                                    + owner
                                    + ", "
                                    + tier.stepSeconds()
                                    + " s from "
                                    + Instant.ofEpochMilli(begin)
                                    + ": expected "
                                    + expected
                                    + " but found "
                                    + found);
                }
            }
        }
    }

    private void add(Bucket bucket, ResultSet row, boolean isReading) throws SQLException {
        if (!isReading) {
            bucket.add(
                    new Bucket(
                            row.getDouble(2),
                            row.getDouble(3),
                            row.getLong(4),
                            row.getLong(5),
                            row.getLong(6)));
            return;
        }
        readings++;
        double value = row.getDouble(2);
        if (row.wasNull()) {
            bucket.addBad();
        } else {
            bucket.add(value);
        }
    }
}
