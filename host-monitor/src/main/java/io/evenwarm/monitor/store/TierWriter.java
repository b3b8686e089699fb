package io.evenwarm.monitor.store;

import io.evenwarm.monitor.history.Tier;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Types;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/**
 * Keeps the tiers equal to the readings. Readings gather here within a transaction and are merged
 * into the stored stretches by {@link #flush}; the order in which they come doesn't matter.
 *
 * <p>Used under the writer's lock, inside its transaction.
 */
final class TierWriter {

    /** One stretch of a tier. */
    record Stretch(TierTable table, long owner, long beginMillis) {}

    /** As a table's rows lie within a tier: a database takes them faster so. */
    private static final Comparator<Stretch> IN_ORDER_OF_ROWS =
            Comparator.comparing(Stretch::table)
                    .thenComparingLong(Stretch::owner)
                    .thenComparingLong(Stretch::beginMillis);

    /** Sums of the stretches of the finest tier. */
    static final class Sums {
        private final Map<Stretch, Bucket> minutes = new HashMap<>();

        void add(TierTable table, long owner, long timeMillis, double value) {
            bucket(table, owner, timeMillis).add(value);
        }

        void addBad(TierTable table, long owner, long timeMillis) {
            bucket(table, owner, timeMillis).addBad();
        }

        private Bucket bucket(TierTable table, long owner, long timeMillis) {
            return minutes.computeIfAbsent(
                    new Stretch(table, owner, Tier.MINUTE.beginMillis(timeMillis)),
                    at -> new Bucket());
        }

        /** Of each tier, each made from the one before. */
        private Map<Tier, Map<Stretch, Bucket>> ofTiers() {
            Map<Tier, Map<Stretch, Bucket>> tiers = new EnumMap<>(Tier.class);
            Map<Stretch, Bucket> finer = minutes;
            for (Tier tier : Tier.all()) {
                finer = tier.finer().isEmpty() ? minutes : coarser(finer, tier);
                tiers.put(tier, finer);
            }
            return tiers;
        }

        private static Map<Stretch, Bucket> coarser(Map<Stretch, Bucket> finer, Tier tier) {
            Map<Stretch, Bucket> coarser = new HashMap<>();
            finer.forEach(
                    (at, bucket) ->
                            coarser.computeIfAbsent(
                                            new Stretch(
                                                    at.table,
                                                    at.owner,
                                                    tier.beginMillis(at.beginMillis)),
                                            wide -> new Bucket())
                                    .add(bucket));
            return coarser;
        }
    }

    private final Map<TierTable, PreparedStatement> adding = new EnumMap<>(TierTable.class);
    private final Map<TierTable, PreparedStatement> selecting = new EnumMap<>(TierTable.class);
    private final Map<TierTable, PreparedStatement> deleting = new EnumMap<>(TierTable.class);
    private final Map<TierTable, PreparedStatement> summingUp = new EnumMap<>(TierTable.class);
    private final Sums gathered = new Sums();

    TierWriter(Connection connection) throws SQLException {
        for (TierTable table : TierTable.values()) {
            adding.put(table, connection.prepareStatement(table.addSql()));
            selecting.put(table, connection.prepareStatement(table.selectSql()));
            deleting.put(table, connection.prepareStatement(table.deleteSql()));
            summingUp.put(table, connection.prepareStatement(table.sumUpSql()));
        }
    }

    void add(TierTable table, long owner, long timeMillis, double value) {
        gathered.add(table, owner, timeMillis, value);
    }

    void addBad(TierTable table, long owner, long timeMillis) {
        gathered.addBad(table, owner, timeMillis);
    }

    /** Merges what was gathered into the stored tiers. */
    void flush() throws SQLException {
        merge(gathered);
        gathered.minutes.clear();
    }

    /**
     * Moves readings from where they stood to where they stand now.
     *
     * @param from summed up at their old times
     * @param to summed up at their new ones, at which they are stored already
     */
    void move(Sums from, Sums to) throws SQLException {
        merge(to);
        for (Map.Entry<Tier, Map<Stretch, Bucket>> tier : from.ofTiers().entrySet()) {
            for (Map.Entry<Stretch, Bucket> entry : tier.getValue().entrySet()) {
                takeAway(tier.getKey(), entry.getKey(), entry.getValue());
            }
        }
    }

    private void merge(Sums sums) throws SQLException {
        for (Map.Entry<Tier, Map<Stretch, Bucket>> tier : sums.ofTiers().entrySet()) {
            List<Map.Entry<Stretch, Bucket>> inOrder = new ArrayList<>(tier.getValue().entrySet());
            inOrder.sort(Map.Entry.comparingByKey(IN_ORDER_OF_ROWS));
            for (Map.Entry<Stretch, Bucket> entry : inOrder) {
                add(tier.getKey(), entry.getKey(), entry.getValue());
            }
        }
        for (PreparedStatement statement : adding.values()) {
            statement.executeBatch();
        }
    }

    private void add(Tier tier, Stretch at, Bucket bucket) throws SQLException {
        PreparedStatement add = of(adding, at.table);
        bind(add, tier, at);
        if (bucket.count() == 0) {
            add.setNull(4, Types.DOUBLE);
            add.setNull(5, Types.DOUBLE);
        } else {
            add.setDouble(4, bucket.least());
            add.setDouble(5, bucket.greatest());
        }
        add.setLong(6, bucket.sumMillionths());
        add.setLong(7, bucket.count());
        add.setLong(8, bucket.badCount());
        add.addBatch();
    }

    private void takeAway(Tier tier, Stretch at, Bucket gone) throws SQLException {
        Bucket stored = stored(tier, at);
        if (stored.isEmpty()) {
            return; // Retention was here.
        }
        Bucket left = stored.minus(gone);
        PreparedStatement delete = of(deleting, at.table);
        bind(delete, tier, at);
        delete.executeUpdate();
        if (left.isEmpty()) {
            return;
        }
        // An extreme may have gone with the readings. Where retention has removed others of the
        // stretch, their extremes are only known from here, and all stay.
        Bucket readings = summedUp(tier, at);
        add(tier, at, readings.hasCountsOf(left) ? readings : left);
        of(adding, at.table).executeBatch();
    }

    private Bucket stored(Tier tier, Stretch at) throws SQLException {
        PreparedStatement select = of(selecting, at.table);
        bind(select, tier, at);
        select.setLong(4, at.beginMillis + 1);
        try (ResultSet rows = select.executeQuery()) {
            return rows.next()
                    ? new Bucket(
                            rows.getDouble(2),
                            rows.getDouble(3),
                            rows.getLong(4),
                            rows.getLong(5),
                            rows.getLong(6))
                    : new Bucket();
        }
    }

    private Bucket summedUp(Tier tier, Stretch at) throws SQLException {
        PreparedStatement sum = of(summingUp, at.table);
        sum.setLong(1, at.owner);
        sum.setLong(2, at.beginMillis);
        sum.setLong(3, at.beginMillis + tier.stepMillis());
        try (ResultSet rows = sum.executeQuery()) {
            rows.next();
            return new Bucket(
                    rows.getDouble(1),
                    rows.getDouble(2),
                    rows.getLong(3),
                    rows.getLong(4),
                    rows.getLong(5));
        }
    }

    private static void bind(PreparedStatement statement, Tier tier, Stretch at)
            throws SQLException {
        statement.setLong(1, at.owner);
        statement.setLong(2, tier.stepSeconds());
        statement.setLong(3, at.beginMillis);
    }

    private static PreparedStatement of(
            Map<TierTable, PreparedStatement> statements, TierTable table) {
        PreparedStatement statement = statements.get(table);
        if (statement == null) {
            throw new IllegalStateException("no statement for " + table);
        }
        return statement;
    }
}
