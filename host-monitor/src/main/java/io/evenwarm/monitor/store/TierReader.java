package io.evenwarm.monitor.store;

import io.evenwarm.monitor.history.HistoryQueries;
import io.evenwarm.monitor.history.Summaries;
import io.evenwarm.monitor.history.Tier;
import io.evenwarm.monitor.history.TimeSpan;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;

/** Reads one tier over every stretch that touches a span. */
final class TierReader {

    private final Connection connection;
    private final Tier tier;
    private final TimeSpan span;

    TierReader(Connection connection, Tier tier, TimeSpan span) {
        this.connection = connection;
        this.tier = tier;
        this.span = span;
    }

    Summaries read(TierTable table, long owner) throws SQLException {
        long from = Keys.ceilingMillis(span.from());
        long to = Keys.ceilingMillis(span.to());
        Summaries.Builder builder = new Summaries.Builder(tier.stepMillis());
        try (PreparedStatement select = connection.prepareStatement(table.selectSql())) {
            select.setLong(1, owner);
            select.setLong(2, tier.stepSeconds());
            // The stretch that the span begins in belongs to it.
            select.setLong(
                    3,
                    from < Long.MIN_VALUE + 2 * tier.stepMillis() ? from : tier.beginMillis(from));
            select.setLong(4, to);
            try (ResultSet rows = select.executeQuery()) {
                while (rows.next()) {
                    long count = rows.getLong(5);
                    builder.add(
                            rows.getLong(1),
                            rows.getDouble(2),
                            rows.getDouble(3),
                            rows.getLong(4) / Bucket.PER_UNIT / count,
                            count,
                            rows.getLong(6));
                }
            }
        }
        return builder.build();
    }

    /** As {@link #read}, in longer stretches where even the coarsest tier has too many. */
    Summaries readForCurve(TierTable table, long owner) throws SQLException {
        Summaries all = read(table, owner);
        int max = HistoryQueries.CURVE_ROWS_MAX;
        return all.size() <= max ? all : all.combined(all.size() / (max - 1) + 1);
    }
}
