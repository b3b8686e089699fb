package io.evenwarm.monitor.store;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.CabinetName;
import io.evenwarm.monitor.history.CabinetKey;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.OptionalLong;

/** Names and times as queries need them. */
final class Keys {

    private static final Instant EARLIEST = Instant.ofEpochMilli(Long.MIN_VALUE);
    private static final Instant LATEST = Instant.ofEpochMilli(Long.MAX_VALUE);

    private Keys() {}

    static CabinetKey of(String agent, String cabinet) {
        return new CabinetKey(new AgentName(agent), new CabinetName(cabinet));
    }

    static OptionalLong cabinetId(Connection connection, CabinetKey key) throws SQLException {
        try (PreparedStatement select =
                connection.prepareStatement(
                        "SELECT cabinet.id FROM cabinet JOIN agent ON agent.id = cabinet.agent_id"
                                + " WHERE agent.name = ? AND cabinet.name = ?")) {
            select.setString(1, key.agent().value());
            select.setString(2, key.cabinet().value());
            try (ResultSet rows = select.executeQuery()) {
                return rows.next() ? OptionalLong.of(rows.getLong(1)) : OptionalLong.empty();
            }
        }
    }

    /** The first whole millisecond at or after; "before {@code t}" is then "below this". */
    static long ceilingMillis(Instant time) {
        if (time.isBefore(EARLIEST)) {
            return Long.MIN_VALUE;
        }
        if (!time.isBefore(LATEST)) {
            return Long.MAX_VALUE;
        }
        long millis = time.toEpochMilli();
        return Instant.ofEpochMilli(millis).equals(time) ? millis : millis + 1;
    }
}
