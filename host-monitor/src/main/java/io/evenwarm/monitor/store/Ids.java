package io.evenwarm.monitor.store;

import io.evenwarm.message.BootId;
import io.evenwarm.message.Limits;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.quantity.Quantity;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;

/**
 * The short numbers that stand for names in the tables, made when first needed. Used under the
 * writer's lock, inside its transactions; after a failure the numbers given out in it are void, and
 * this must not be used any more.
 */
final class Ids {

    static final String CELSIUS = "celsius";
    static final String PERCENT = "percent-relative-humidity";

    private record Key(String table, long parent, String name) {}

    private record ProbeKey(long cabinetId, String name, String position, String unit) {}

    private record BootKey(long agentId, BootId boot) {}

    private final Connection connection;
    private final Map<Key, Long> named = new HashMap<>();
    private final Map<ProbeKey, Long> probes = new HashMap<>();
    private final Map<BootKey, Boot> boots = new HashMap<>();
    private final Map<Limits, Long> limits = new HashMap<>();

    Ids(Connection connection) {
        this.connection = connection;
    }

    long agent(String name) throws SQLException {
        return named(
                new Key("agent", 0, name),
                "SELECT id FROM agent WHERE name = ?",
                "INSERT INTO agent (name) VALUES (?)",
                name);
    }

    long journal(long agentId, String name) throws SQLException {
        return named(
                new Key("journal", agentId, name),
                "SELECT id FROM journal WHERE agent_id = ? AND name = ?",
                "INSERT INTO journal (agent_id, name, last_sequence) VALUES (?, ?, 0)",
                agentId,
                name);
    }

    long cabinet(long agentId, String name) throws SQLException {
        return named(
                new Key("cabinet", agentId, name),
                "SELECT id FROM cabinet WHERE agent_id = ? AND name = ?",
                "INSERT INTO cabinet (agent_id, name) VALUES (?, ?)",
                agentId,
                name);
    }

    long word(String word) throws SQLException {
        return named(
                new Key("word", 0, word),
                "SELECT id FROM word WHERE word = ?",
                "INSERT INTO word (word) VALUES (?)",
                word);
    }

    long limits(Limits values) throws SQLException {
        Long known = limits.get(values);
        if (known != null) {
            return known;
        }
        Object[] row = {
            values.tooCold().celsius(),
            values.tooWarm().celsius(),
            values.cutOff().celsius(),
            values.ceiling().celsius()
        };
        long id =
                findOrInsert(
                        "SELECT id FROM limits WHERE too_cold_celsius = ? AND too_warm_celsius = ?"
                                + " AND cut_off_celsius = ? AND ceiling_celsius = ?",
                        "INSERT INTO limits (too_cold_celsius, too_warm_celsius, cut_off_celsius,"
                                + " ceiling_celsius) VALUES (?, ?, ?, ?)",
                        row);
        limits.put(values, id);
        return id;
    }

    /**
     * The run of an agent.
     *
     * @return what is known of it; empty when this is the first that is heard of it and {@link
     *     #addBoot} is due
     */
    Optional<Boot> boot(long agentId, BootId boot) throws SQLException {
        BootKey key = new BootKey(agentId, boot);
        Boot known = boots.get(key);
        if (known != null) {
            return Optional.of(known);
        }
        try (PreparedStatement select =
                connection.prepareStatement(
                        "SELECT id, trusted_offset_millis, last_time_millis FROM boot"
                                + " WHERE agent_id = ? AND boot = ?")) {
            bind(select, agentId, boot.toString());
            try (ResultSet rows = select.executeQuery()) {
                if (!rows.next()) {
                    return Optional.empty();
                }
                long offset = rows.getLong(2);
                OptionalLong trusted =
                        rows.wasNull() ? OptionalLong.empty() : OptionalLong.of(offset);
                Boot found = new Boot(rows.getLong(1), trusted, rows.getLong(3));
                boots.put(key, found);
                return Optional.of(found);
            }
        }
    }

    /** The runs that this transaction or an earlier one touched. */
    List<Boot> bootsInUse() {
        return List.copyOf(boots.values());
    }

    Boot addBoot(long agentId, BootId boot) throws SQLException {
        long id =
                insert(
                        "INSERT INTO boot (agent_id, boot, last_time_millis) VALUES (?, ?, 0)",
                        agentId,
                        boot.toString());
        Boot added = new Boot(id, OptionalLong.empty(), 0);
        boots.put(new BootKey(agentId, boot), added);
        return added;
    }

    /**
     * The probe behind a reading: same name, position and unit. A bad reading has no unit; it goes
     * to the newest probe of that name and position, which takes its unit from the first value.
     */
    long probe(long cabinetId, ProbeReading reading) throws SQLException {
        return probe(
                cabinetId,
                reading.probe().value(),
                reading.place().label(),
                reading.reading().quantity().map(Ids::unitOf).orElse(""));
    }

    /** As above; {@code unit} is empty for a bad reading. */
    long probe(long cabinetId, String name, String position, String unit) throws SQLException {
        ProbeKey key = new ProbeKey(cabinetId, name, position, unit);
        Long known = probes.get(key);
        if (known != null) {
            return known;
        }
        long id = findProbe(key);
        probes.put(key, id);
        if (unit.isEmpty()) {
            return id;
        }
        // From here on a bad reading belongs to this one, also where the sensor behind the name
        // was changed for one of another kind.
        probes.put(new ProbeKey(key.cabinetId, key.name, key.position, ""), id);
        return id;
    }

    private long findProbe(ProbeKey key) throws SQLException {
        try (PreparedStatement select =
                connection.prepareStatement(
                        "SELECT id, unit FROM probe WHERE cabinet_id = ? AND name = ?"
                                + " AND position = ? ORDER BY id DESC")) {
            bind(select, key.cabinetId, key.name, key.position);
            try (ResultSet rows = select.executeQuery()) {
                while (rows.next()) {
                    long id = rows.getLong(1);
                    String unit = rows.getString(2);
                    if (key.unit.isEmpty() || key.unit.equals(unit)) {
                        return id;
                    }
                    if (unit == null) {
                        update("UPDATE probe SET unit = ? WHERE id = ?", key.unit, id);
                        return id;
                    }
                }
            }
        }
        String columns = "INSERT INTO probe (cabinet_id, name, position, unit) VALUES (?, ?, ?, ";
        return key.unit.isEmpty()
                ? insert(columns + "NULL)", key.cabinetId, key.name, key.position)
                : insert(columns + "?)", key.cabinetId, key.name, key.position, key.unit);
    }

    /** The last sequence number stored of a journal. */
    long lastSequence(long journalId) throws SQLException {
        try (PreparedStatement select =
                connection.prepareStatement("SELECT last_sequence FROM journal WHERE id = ?")) {
            bind(select, journalId);
            try (ResultSet rows = select.executeQuery()) {
                return rows.next() ? rows.getLong(1) : 0;
            }
        }
    }

    private static String unitOf(Quantity quantity) {
        return quantity.fold(temperature -> CELSIUS, humidity -> PERCENT);
    }

    private long named(Key key, String select, String insert, Object... values)
            throws SQLException {
        Long known = named.get(key);
        if (known != null) {
            return known;
        }
        long id = findOrInsert(select, insert, values);
        named.put(key, id);
        return id;
    }

    private long findOrInsert(String select, String insert, Object... values) throws SQLException {
        try (PreparedStatement statement = connection.prepareStatement(select)) {
            bind(statement, values);
            try (ResultSet rows = statement.executeQuery()) {
                if (rows.next()) {
                    return rows.getLong(1);
                }
            }
        }
        return insert(insert, values);
    }

    private long insert(String sql, Object... values) throws SQLException {
        try (PreparedStatement statement = connection.prepareStatement(sql + " RETURNING id")) {
            bind(statement, values);
            try (ResultSet rows = statement.executeQuery()) {
                rows.next();
                return rows.getLong(1);
            }
        }
    }

    private void update(String sql, Object... values) throws SQLException {
        try (PreparedStatement statement = connection.prepareStatement(sql)) {
            bind(statement, values);
            statement.executeUpdate();
        }
    }

    private static void bind(PreparedStatement statement, Object... values) throws SQLException {
        for (int i = 0; i < values.length; i++) {
            statement.setObject(i + 1, values[i]);
        }
    }
}
