package io.evenwarm.monitor.store;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.Finding;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.Moment;
import io.evenwarm.message.PreviousRun;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.Reading;
import io.evenwarm.monitor.history.ImportCount;
import io.evenwarm.monitor.history.JournalPosition;
import io.evenwarm.monitor.history.ReadingSource;
import io.evenwarm.monitor.history.Retention;
import java.io.IOException;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Types;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.Set;
import java.util.concurrent.TimeUnit;
import org.jspecify.annotations.Nullable;

/**
 * Writes on the store's one writing connection, which it owns. Not for several threads at once: the
 * store makes its callers take turns.
 */
final class Appender implements AutoCloseable {

    private final Connection connection;
    private final Ids ids;
    private final LogBook logBook;
    private final TierWriter tiers;
    private final PreparedStatement insertRecord;
    private final PreparedStatement insertReading;
    private final PreparedStatement insertEvent;
    private final PreparedStatement updateJournal;
    private final PreparedStatement updateBoot;

    /** Takes over the connection: {@link #close} closes it. */
    Appender(Connection connection) throws SQLException {
        this.connection = connection;
        ids = new Ids(connection);
        logBook = new LogBook(connection);
        tiers = new TierWriter(connection);
        insertRecord =
                connection.prepareStatement(
                        "INSERT INTO record (cabinet_id, time_millis, journal_id, sequence,"
                                + " boot_id, monotonic_millis, time_is_provisional, set_point_celsius,"
                                + " duty_fraction, heater_on_fraction, guard_word, limits_id) VALUES"
                                + " (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)");
        insertReading =
                connection.prepareStatement(
                        "INSERT INTO reading (probe_id, time_millis, journal_id, sequence, value,"
                                + " doubt_word) VALUES (?, ?, ?, ?, ?, ?)");
        insertEvent =
                connection.prepareStatement(
                        "INSERT INTO event (journal_id, sequence, time_millis, boot_id,"
                                + " monotonic_millis, time_is_provisional, cabinet_id, kind, words,"
                                + " code, probe, raised_monotonic_millis, evidence, action, advice)"
                                + " VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)");
        updateJournal =
                connection.prepareStatement("UPDATE journal SET last_sequence = ? WHERE id = ?");
        updateBoot =
                connection.prepareStatement(
                        "UPDATE boot SET last_time_millis = ?, trusted_offset_millis = ?"
                                + " WHERE id = ?");
    }

    Optional<JournalPosition> position(AgentName agent, Optional<String> journal)
            throws SQLException {
        try (PreparedStatement select =
                connection.prepareStatement(
                        "SELECT journal.name, last_sequence FROM journal JOIN agent"
                                + " ON agent.id = agent_id WHERE agent.name = ?"
                                + (journal.isPresent()
                                        ? " AND journal.name = ?"
                                        : " AND journal.name <> '" + ReadingImport.JOURNAL + "'")
                                + " ORDER BY journal.id DESC LIMIT 1")) {
            select.setString(1, agent.value());
            if (journal.isPresent()) {
                select.setString(2, journal.get());
            }
            try (ResultSet rows = select.executeQuery()) {
                return rows.next()
                        ? Optional.of(new JournalPosition(rows.getString(1), rows.getLong(2)))
                        : Optional.empty();
            }
        }
    }

    /**
     * Stores all of {@code records} that are new and the journal's position, or nothing.
     *
     * @throws SQLException when nothing was stored; this can't be used any more then. SQLite may or
     *     may not have rolled back by itself, and only closing the connection surely does
     */
    void append(AgentName agent, String journal, List<JournalRecord> records) throws SQLException {
        append(agent, journal, records, false);
    }

    /** As {@link #append}, of a journal from before the one in use. */
    void appendEarlier(AgentName agent, String journal, List<JournalRecord> records)
            throws SQLException {
        append(agent, journal, records, true);
    }

    private void append(
            AgentName agent, String journal, List<JournalRecord> records, boolean isEarlier)
            throws SQLException {
        connection.setAutoCommit(false);
        appendInTransaction(agent, journal, records, isEarlier);
        connection.commit();
        connection.setAutoCommit(true);
    }

    /** Nothing more comes of a journal from before the one in use. */
    void endEarlier(AgentName agent, String journal) throws SQLException {
        connection.setAutoCommit(false);
        long agentId = ids.agent(agent.value());
        for (Boot boot : ids.bootsInUse()) {
            updateBoot(boot);
        }
        logBook.earlierJournalEnded(agentId, ids.journal(agentId, journal));
        connection.commit();
        connection.setAutoCommit(true);
    }

    private void appendInTransaction(
            AgentName agent, String journal, List<JournalRecord> records, boolean isEarlier)
            throws SQLException {
        long agentId = ids.agent(agent.value());
        long journalId = ids.journal(agentId, journal);
        long last =
                position(agent, Optional.of(journal)).map(JournalPosition::lastSequence).orElse(0L);
        Set<Boot> boots = new HashSet<>();
        for (JournalRecord record : records) {
            if (record.sequence() <= last) {
                continue;
            }
            last = record.sequence();
            Boot boot =
                    bootOf(
                            agentId,
                            record,
                            isEarlier ? OptionalLong.of(journalId) : OptionalLong.empty());
            boots.add(boot);
            Target target = new Target(agentId, journalId, boot, boot.stamp(record.moment()));
            insert(target, record);
            // The agent itself may have corrected the times before it sent them.
            record.moment()
                    .recordedWall()
                    .ifPresent(wall -> boot.cameCorrected(wall, target.stamp.timeMillis()));
        }
        insertRecord.executeBatch();
        insertReading.executeBatch();
        tiers.flush();
        for (Boot boot : boots) {
            updateBoot(boot);
            // What is stored already was before what comes corrected now: their line begins there.
            if (boot.hasCorrectionsToMake()) {
                logBook.clockSet(agentId, boot);
                ClockCorrection.apply(connection, tiers, boot);
                boot.corrected();
            }
            Optional<Boot.Corrected> came = boot.takeCameCorrected();
            if (came.isPresent()) {
                logBook.clockSet(agentId, boot, came.get());
            }
        }
        updateJournal.setLong(1, last);
        updateJournal.setLong(2, journalId);
        updateJournal.executeUpdate();
    }

    private Boot bootOf(long agentId, JournalRecord record, OptionalLong earlierJournalId)
            throws SQLException {
        Optional<Boot> known = ids.boot(agentId, record.moment().boot());
        if (known.isPresent()) {
            return known.get();
        }
        // The boot before may have its newest times in this very batch: they date its open entries.
        for (Boot earlier : ids.bootsInUse()) {
            updateBoot(earlier);
        }
        Boot added = ids.addBoot(agentId, record.moment().boot());
        if (earlierJournalId.isPresent()) {
            logBook.earlierBootBegan(agentId, added, earlierJournalId.getAsLong());
        } else {
            logBook.bootBegan(agentId, added);
        }
        return added;
    }

    private void updateBoot(Boot boot) throws SQLException {
        updateBoot.setLong(1, boot.lastTimeMillis());
        OptionalLong offset = boot.trustedOffsetMillis();
        if (offset.isPresent()) {
            updateBoot.setLong(2, offset.getAsLong());
        } else {
            updateBoot.setNull(2, Types.INTEGER);
        }
        updateBoot.setLong(3, boot.id());
        updateBoot.executeUpdate();
    }

    private record Target(long agentId, long journalId, Boot boot, Boot.Stamp stamp) {}

    private void insert(Target target, JournalRecord record) throws SQLException {
        // The sealed family's fold can't throw SQLException: it picks the case, and no more.
        Optional<JournalRecord.Readings> readings =
                record.fold(Optional::of, event -> Optional.empty());
        Optional<JournalRecord.Event> event = record.fold(r -> Optional.empty(), Optional::of);
        if (readings.isPresent()) {
            insertReadings(target, readings.get());
        }
        if (event.isPresent()) {
            insertEvent(target, event.get());
        }
    }

    private void insertReadings(Target target, JournalRecord.Readings record) throws SQLException {
        long cabinetId = ids.cabinet(target.agentId, record.cabinet().value());
        insertRecord.setLong(1, cabinetId);
        insertRecord.setLong(2, target.stamp.timeMillis());
        insertRecord.setLong(3, target.journalId);
        insertRecord.setLong(4, record.sequence());
        insertRecord.setLong(5, target.boot.id());
        insertRecord.setLong(6, target.stamp.monotonicMillis());
        insertRecord.setInt(7, target.stamp.isProvisional() ? 1 : 0);
        insertRecord.setDouble(8, record.setPoint().celsius());
        insertRecord.setDouble(9, record.duty().fraction());
        insertRecord.setDouble(10, record.heaterOnFraction());
        insertRecord.setLong(11, ids.word(record.guard().name()));
        insertRecord.setLong(12, ids.limits(record.limits()));
        insertRecord.addBatch();
        long time = target.stamp.timeMillis();
        tiers.add(TierTable.SET_POINT, cabinetId, time, record.setPoint().celsius());
        tiers.add(TierTable.HEATER, cabinetId, time, record.heaterOnFraction());
        Set<Long> probes = new HashSet<>();
        for (ProbeReading probe : record.probes()) {
            long probeId = ids.probe(cabinetId, probe);
            // A probe that stands twice in one record must not stop the record for ever.
            if (probes.add(probeId)) {
                insertReading(target, record.sequence(), probeId, probe.reading());
            }
        }
    }

    private void insertReading(Target target, long sequence, long probeId, Reading reading)
            throws SQLException {
        insertReading.setLong(1, probeId);
        insertReading.setLong(2, target.stamp.timeMillis());
        insertReading.setLong(3, target.journalId);
        insertReading.setLong(4, sequence);
        if (reading.quantity().isPresent()) {
            double value =
                    reading.quantity()
                            .get()
                            .fold(t -> (Double) t.celsius(), h -> (Double) h.percent());
            insertReading.setDouble(5, value);
            tiers.add(TierTable.PROBE, probeId, target.stamp.timeMillis(), value);
        } else {
            insertReading.setNull(5, Types.DOUBLE);
            tiers.addBad(TierTable.PROBE, probeId, target.stamp.timeMillis());
        }
        Optional<Reading.Doubt> doubt =
                reading.fold(
                        good -> Optional.empty(),
                        uncertain -> Optional.of(uncertain.doubt()),
                        bad -> Optional.of(bad.doubt()));
        if (doubt.isPresent()) {
            insertReading.setLong(6, ids.word(doubt.get().name()));
        } else {
            insertReading.setNull(6, Types.INTEGER);
        }
        insertReading.addBatch();
    }

    private void insertEvent(Target target, JournalRecord.Event event) throws SQLException {
        OptionalLong cabinetId =
                event.subject().isPresent()
                        ? OptionalLong.of(
                                ids.cabinet(target.agentId, event.subject().get().value()))
                        : OptionalLong.empty();
        insertEvent.setLong(1, target.journalId);
        insertEvent.setLong(2, event.sequence());
        insertEvent.setLong(3, target.stamp.timeMillis());
        insertEvent.setLong(4, target.boot.id());
        insertEvent.setLong(5, target.stamp.monotonicMillis());
        insertEvent.setInt(6, target.stamp.isProvisional() ? 1 : 0);
        setOptional(7, cabinetId);
        insertEvent.setString(8, event.kind().name());
        insertEvent.setString(9, event.words());
        @Nullable Finding finding = event.finding().orElse(null);
        insertEvent.setString(10, finding == null ? null : finding.code().value());
        insertEvent.setString(
                11, finding == null ? null : finding.probe().map(p -> p.value()).orElse(null));
        setOptional(
                12,
                finding == null
                        ? OptionalLong.empty()
                        : OptionalLong.of(TimeUnit.NANOSECONDS.toMillis(finding.raisedAtNanos())));
        insertEvent.setString(13, finding == null ? null : finding.evidence());
        insertEvent.setString(14, finding == null ? null : finding.action());
        insertEvent.setString(15, finding == null ? null : finding.advice());
        insertEvent.executeUpdate();
        if (event.previousRun().isPresent()) {
            notRunning(target, event.previousRun().get());
        }
        logBook.write(target.agentId, cabinetId, target.boot, event, target.stamp);
    }

    private void notRunning(Target target, PreviousRun run) throws SQLException {
        if (run.lastAlive().isEmpty()) {
            return;
        }
        Moment lastAlive = run.lastAlive().get();
        Optional<Boot> boot = ids.boot(target.agentId, lastAlive.boot());
        long lastAliveMillis =
                boot.isPresent()
                        ? boot.get().timeMillis(lastAlive)
                        : lastAlive.wall().toEpochMilli();
        logBook.notRunning(
                target.agentId, target.boot, lastAliveMillis, target.stamp, run.ending());
    }

    private void setOptional(int index, OptionalLong value) throws SQLException {
        if (value.isPresent()) {
            insertEvent.setLong(index, value.getAsLong());
        } else {
            insertEvent.setNull(index, Types.INTEGER);
        }
    }

    /**
     * Stores all readings of a source, or nothing.
     *
     * @throws SQLException when nothing was stored; this can't be used any more then
     */
    ImportCount importReadings(ReadingSource source) throws SQLException, IOException {
        connection.setAutoCommit(false);
        ReadingImport readings = new ReadingImport(connection, ids, tiers);
        try {
            source.into(
                    reading -> {
                        try {
                            readings.add(reading);
                        } catch (SQLException e) {
                            throw new ImportFailure(e);
                        }
                    });
        } catch (ImportFailure e) {
            throw e.sql;
        }
        ImportCount count = readings.finish();
        connection.commit();
        connection.setAutoCommit(true);
        return count;
    }

    /** Writes something of another port's, all of it or nothing. */
    <R> R write(Write<R> write) throws SQLException {
        connection.setAutoCommit(false);
        R result = write.on(connection);
        connection.commit();
        connection.setAutoCommit(true);
        return result;
    }

    /** What is written in one transaction. */
    @FunctionalInterface
    interface Write<R> {
        R on(Connection connection) throws SQLException;
    }

    /** Takes in an archive, all of it or nothing; this can't be used any more afterwards. */
    long importAll(Path archive, Database database) throws SQLException, IOException {
        connection.setAutoCommit(false);
        long rows = new StoreArchive(connection).read(archive, database.where());
        database.afterRowsCame(connection);
        connection.commit();
        return rows;
    }

    /** Takes the store's own trouble through a source. */
    private static final class ImportFailure extends IOException {

        private static final long serialVersionUID = 1L;

        private final SQLException sql;

        ImportFailure(SQLException sql) {
            super(sql);
            this.sql = sql;
        }
    }

    /** Removes a slice of what is older than its retention; returns how many rows. */
    long thin(Retention retention, long nowMillis) throws SQLException {
        return new Thinner(connection, retention, nowMillis).slice();
    }

    /** Closes the connection, and with it every statement on it. */
    @Override
    public void close() throws SQLException {
        connection.close();
    }
}
