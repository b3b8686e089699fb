package io.evenwarm.monitor.store;

/** The tables of tiers, which are alike, and what each sums up. */
enum TierTable {
    PROBE("probe_tier", "probe_id", "reading", "value"),
    SET_POINT("set_point_tier", "cabinet_id", "record", "set_point_celsius"),
    HEATER("heater_tier", "cabinet_id", "record", "heater_on_fraction");

    private final String table;
    private final String owner;
    private final String rawTable;
    private final String rawValue;

    TierTable(String table, String owner, String rawTable, String rawValue) {
        this.table = table;
        this.owner = owner;
        this.rawTable = rawTable;
        this.rawValue = rawValue;
    }

    /** Parameters: owner, step in seconds, begin; then least, greatest, sum, count, bad count. */
    String addSql() {
        return ("INSERT INTO TIER (OWNER, step_seconds, begin_millis, least, greatest,"
                        + " sum_millionths, value_count, bad_count) VALUES (?, ?, ?, ?, ?, ?, ?, ?)"
                        + " ON CONFLICT (OWNER, step_seconds, begin_millis) DO UPDATE SET"
                        + " least = CASE WHEN TIER.least <= excluded.least"
                        + " OR excluded.least IS NULL THEN TIER.least ELSE excluded.least END,"
                        + " greatest = CASE WHEN TIER.greatest >= excluded.greatest"
                        + " OR excluded.greatest IS NULL THEN TIER.greatest"
                        + " ELSE excluded.greatest END,"
                        + " sum_millionths = TIER.sum_millionths + excluded.sum_millionths,"
                        + " value_count = TIER.value_count + excluded.value_count,"
                        + " bad_count = TIER.bad_count + excluded.bad_count")
                .replace("TIER", table)
                .replace("OWNER", owner);
    }

    /** Parameters: owner, step in seconds, first begin (included), last begin (excluded). */
    String selectSql() {
        return "SELECT begin_millis, least, greatest, sum_millionths, value_count, bad_count FROM "
                + table
                + " WHERE "
                + owner
                + " = ? AND step_seconds = ? AND begin_millis >= ? AND begin_millis < ?"
                + " ORDER BY begin_millis";
    }

    /** Parameters: owner, step in seconds, begin. */
    String deleteSql() {
        return "DELETE FROM "
                + table
                + " WHERE "
                + owner
                + " = ? AND step_seconds = ? AND begin_millis = ?";
    }

    /** The stored readings of a stretch, summed up. Parameters: owner, begin, end (excluded). */
    String sumUpSql() {
        return ("SELECT min(VALUE), max(VALUE),"
                        + " sum(CAST(floor(VALUE * 1000000.0 + 0.5) AS BIGINT)),"
                        + " count(VALUE), count(*) - count(VALUE) FROM RAW"
                        + " WHERE OWNER = ? AND time_millis >= ? AND time_millis < ?")
                .replace("VALUE", rawValue)
                .replace("RAW", rawTable)
                .replace("OWNER", owner);
    }

    /** What is summed up, oldest first. Parameters: owner, first time. */
    String readingsSql() {
        return "SELECT time_millis, "
                + rawValue
                + " FROM "
                + rawTable
                + " WHERE "
                + owner
                + " = ? AND time_millis >= ? ORDER BY time_millis";
    }

    String table() {
        return table;
    }

    String owner() {
        return owner;
    }
}
