package io.evenwarm.monitor.store;

import io.evenwarm.monitor.history.ImportCount;
import io.evenwarm.monitor.history.ProbeCurve;
import io.evenwarm.monitor.history.StoredReading;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.sql.Types;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;

/**
 * Puts readings from outside into the tables and tiers. Where a probe has a reading of that very
 * time already, that one stays. Used under the writer's lock, inside its transaction.
 */
final class ReadingImport {

    /** No agent's journal has such a name: those are UUIDs. */
    static final String JOURNAL = "import";

    private final Ids ids;
    private final TierWriter tiers;
    private final PreparedStatement insert;
    private final PreparedStatement setLastSequence;
    private final Map<Long, Long> lastSequences = new HashMap<>();
    private long stored;
    private long alreadyThere;

    ReadingImport(Connection connection, Ids ids, TierWriter tiers) throws SQLException {
        this.ids = ids;
        this.tiers = tiers;
        insert =
                connection.prepareStatement(
                        "INSERT INTO reading (probe_id, time_millis, journal_id, sequence, value,"
                                + " doubt_word) SELECT ?, ?, ?, ?, CAST(? AS DOUBLE PRECISION),"
                                + " CAST(? AS BIGINT) WHERE NOT EXISTS (SELECT 1 FROM reading"
                                + " WHERE probe_id = ? AND time_millis = ?)");
        setLastSequence =
                connection.prepareStatement(
                        "UPDATE journal SET last_sequence = ?"
                                + " WHERE id = ? AND last_sequence < ?");
    }

    void add(StoredReading reading) throws SQLException {
        long agent = ids.agent(reading.key().agent().value());
        long cabinet = ids.cabinet(agent, reading.key().cabinet().value());
        long journal = ids.journal(agent, JOURNAL);
        long probe =
                ids.probe(
                        cabinet,
                        reading.probe().value(),
                        reading.place().label(),
                        reading.unit().map(ReadingImport::word).orElse(""));
        Long last = lastSequences.get(journal);
        long sequence = (last == null ? ids.lastSequence(journal) : last) + 1;
        insert.setLong(1, probe);
        insert.setLong(2, reading.epochMillis());
        insert.setLong(3, journal);
        insert.setLong(4, sequence);
        if (reading.value().isPresent()) {
            insert.setDouble(5, reading.value().getAsDouble());
        } else {
            insert.setNull(5, Types.DOUBLE);
        }
        Optional<String> doubt = reading.doubt().map(Enum::name);
        if (doubt.isPresent()) {
            insert.setLong(6, ids.word(doubt.get()));
        } else {
            insert.setNull(6, Types.BIGINT);
        }
        insert.setLong(7, probe);
        insert.setLong(8, reading.epochMillis());
        if (insert.executeUpdate() == 0) {
            alreadyThere++;
            return;
        }
        stored++;
        lastSequences.put(journal, sequence);
        if (reading.value().isPresent()) {
            tiers.add(TierTable.PROBE, probe, reading.epochMillis(), reading.value().getAsDouble());
        } else {
            tiers.addBad(TierTable.PROBE, probe, reading.epochMillis());
        }
        if (stored % 10_000 == 0) {
            tiers.flush();
        }
    }

    private static String word(ProbeCurve.Unit unit) {
        return unit == ProbeCurve.Unit.CELSIUS ? Ids.CELSIUS : Ids.PERCENT;
    }

    ImportCount finish() throws SQLException {
        tiers.flush();
        for (Map.Entry<Long, Long> journal : lastSequences.entrySet()) {
            setLastSequence.setLong(1, journal.getValue());
            setLastSequence.setLong(2, journal.getKey());
            setLastSequence.setLong(3, journal.getValue());
            setLastSequence.executeUpdate();
        }
        return new ImportCount(stored, alreadyThere);
    }
}
