package io.evenwarm.monitor.store;

import io.evenwarm.message.Finding;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.PreviousRun;
import io.evenwarm.monitor.history.LogEntry;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Types;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.concurrent.TimeUnit;
import org.jspecify.annotations.Nullable;

/**
 * Turns events into lines of the log: a finding's raising and clearing become one line with a begin
 * and an end; anything else is a line of its own. Used under the writer's lock, inside its
 * transaction.
 */
final class LogBook {

    /** What an entry says when nobody saw its finding clear. */
    static final String UNTIL_STOPPED = " (until the agent stopped)";

    private static final long LEAST_TOLD_MILLIS = 1000;

    private static final String SAME_TROUBLE =
            " WHERE end_millis IS NULL AND agent_id = ? AND cabinet_id IS NOT DISTINCT FROM ?"
                    + " AND code = ? AND probe IS NOT DISTINCT FROM ?";

    private final PreparedStatement insert;
    private final PreparedStatement countClockLines;
    private final PreparedStatement extendClockLine;
    private final PreparedStatement provisional;
    private final PreparedStatement countOpen;
    private final PreparedStatement end;
    private final PreparedStatement endOfBoot;

    LogBook(Connection connection) throws SQLException {
        insert =
                connection.prepareStatement(
                        "INSERT INTO log_entry (agent_id, cabinet_id, boot_id, code, probe,"
                                + " begin_millis, begin_correctable_monotonic_millis, end_millis,"
                                + " end_correctable_monotonic_millis, words)"
                                + " VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)");
        countClockLines =
                connection.prepareStatement(
                        "SELECT count(*) FROM log_entry WHERE boot_id = ? AND words LIKE '"
                                + LogEntry.CLOCK_SET
                                + "%'");
        extendClockLine =
                connection.prepareStatement(
                        "UPDATE log_entry SET end_millis = ? WHERE boot_id = ? AND end_millis < ?"
                                + " AND words LIKE '"
                                + LogEntry.CLOCK_SET
                                + "%'");
        provisional =
                connection.prepareStatement(
                        "SELECT time_millis - monotonic_millis, monotonic_millis,"
                                + " max(monotonic_millis) OVER () FROM ("
                                + " SELECT time_millis, monotonic_millis FROM record"
                                + " WHERE boot_id = ? AND time_is_provisional = 1"
                                + " UNION ALL"
                                + " SELECT time_millis, monotonic_millis"
                                + " FROM event WHERE boot_id = ? AND time_is_provisional = 1"
                                + ") AS dated ORDER BY 2 LIMIT 1");
        countOpen =
                connection.prepareStatement(
                        "SELECT count(*) FROM log_entry"
                                + SAME_TROUBLE.replace(" WHERE ", " WHERE boot_id = ? AND "));
        end =
                connection.prepareStatement(
                        "UPDATE log_entry SET end_millis ="
                                + " CASE WHEN begin_millis > ? THEN begin_millis ELSE ? END,"
                                + " end_correctable_monotonic_millis = ?"
                                + SAME_TROUBLE.replace(" WHERE ", " WHERE boot_id = ? AND "));
        endOfBoot =
                connection.prepareStatement(
                        "UPDATE log_entry SET end_millis = (SELECT CASE WHEN begin_millis >"
                                + " last_time_millis THEN begin_millis ELSE last_time_millis END FROM"
                                + " boot WHERE boot.id = boot_id), words = words || CAST(? AS TEXT)"
                                + " WHERE end_millis IS NULL AND agent_id = ? AND boot_id <> ?"
                                + " AND (CAST(? AS BIGINT) = 0 OR boot_id IN (SELECT boot_id FROM event"
                                + " WHERE journal_id = ?))");
    }

    /**
     * A new run of the agent began. What was open in the run before it ended with that run, as far
     * as anyone can know; the new run raises again what still holds.
     */
    void bootBegan(long agentId, Boot boot) throws SQLException {
        endRuns(agentId, boot.id(), 0);
    }

    /**
     * A run began that an earlier journal of the agent tells of, when runs of a later one are
     * stored already: only what was open in the runs of that same journal ended with it.
     */
    void earlierBootBegan(long agentId, Boot boot, long journalId) throws SQLException {
        endRuns(agentId, boot.id(), journalId);
    }

    /** An earlier journal is told to its end; nothing of it is open any more. */
    void earlierJournalEnded(long agentId, long journalId) throws SQLException {
        endRuns(agentId, 0, journalId);
    }

    private void endRuns(long agentId, long exceptBootId, long onlyJournalId) throws SQLException {
        endOfBoot.setString(1, UNTIL_STOPPED);
        endOfBoot.setLong(2, agentId);
        endOfBoot.setLong(3, exceptBootId);
        endOfBoot.setLong(4, onlyJournalId);
        endOfBoot.setLong(5, onlyJournalId);
        endOfBoot.executeUpdate();
    }

    /**
     * The time between two runs, when the first did not end in order: from when it last lived to
     * the start of the next.
     *
     * @param lastAliveMillis by what is known now of that run's clock
     * @param start of the run after it
     */
    void notRunning(
            long agentId, Boot next, long lastAliveMillis, Boot.Stamp start, PreviousRun.Ending why)
            throws SQLException {
        if (why == PreviousRun.Ending.ORDERLY) {
            return;
        }
        Boot.Stamp begin = new Boot.Stamp(lastAliveMillis, 0, false);
        Boot.Stamp end =
                new Boot.Stamp(
                        Math.max(lastAliveMillis, start.timeMillis()),
                        start.monotonicMillis(),
                        start.isProvisional());
        insert(
                new Subject(agentId, OptionalLong.empty(), next),
                Optional.empty(),
                "agent not running: " + why.words(),
                begin,
                end);
    }

    /** Tells of the provisional times of a run that are about to be corrected. */
    void clockSet(long agentId, Boot boot) throws SQLException {
        provisional.setLong(1, boot.id());
        provisional.setLong(2, boot.id());
        try (ResultSet rows = provisional.executeQuery()) {
            if (!rows.next()) {
                return;
            }
            long offsetMillis = boot.trustedOffsetMillis().orElseThrow();
            clockSet(
                    agentId,
                    boot,
                    new Boot.Corrected(
                            rows.getLong(2) + offsetMillis,
                            rows.getLong(3) + offsetMillis,
                            offsetMillis - rows.getLong(1)));
        }
    }

    /** Tells that times of a run were corrected, so that what was corrected stays visible. */
    void clockSet(long agentId, Boot boot, Boot.Corrected corrected) throws SQLException {
        long behindMillis = corrected.behindMillis();
        if (Math.abs(behindMillis) < LEAST_TOLD_MILLIS) {
            return;
        }
        countClockLines.setLong(1, boot.id());
        try (ResultSet rows = countClockLines.executeQuery()) {
            rows.next();
            if (rows.getLong(1) > 0) {
                extendClockLine.setLong(1, corrected.lastMillis());
                extendClockLine.setLong(2, boot.id());
                extendClockLine.setLong(3, corrected.lastMillis());
                extendClockLine.executeUpdate();
                return;
            }
        }
        insert(
                new Subject(agentId, OptionalLong.empty(), boot),
                Optional.empty(),
                LogEntry.CLOCK_SET
                        + "what the agent recorded in this time is dated "
                        + span(Math.abs(behindMillis) / 1000)
                        + (behindMillis > 0 ? " later" : " earlier")
                        + " than its clock showed then",
                new Boot.Stamp(corrected.firstMillis(), 0, false),
                new Boot.Stamp(corrected.lastMillis(), 0, false));
    }

    private static String span(long seconds) {
        long days = seconds / 86_400;
        return (days > 0 ? days + " d " : "")
                + String.format(
                        Locale.ROOT,
                        "%d:%02d:%02d h",
                        seconds / 3600 % 24,
                        seconds / 60 % 60,
                        seconds % 60);
    }

    void write(
            long agentId,
            OptionalLong cabinetId,
            Boot boot,
            JournalRecord.Event event,
            Boot.Stamp stamp)
            throws SQLException {
        Subject subject = new Subject(agentId, cabinetId, boot);
        if (event.finding().isPresent()) {
            Finding finding = event.finding().get();
            if (event.kind() == JournalRecord.Event.Kind.FINDING_RAISED) {
                raised(subject, finding, event, stamp);
                return;
            }
            if (event.kind() == JournalRecord.Event.Kind.FINDING_CLEARED) {
                cleared(subject, finding, event, stamp);
                return;
            }
        }
        insert(subject, event, stamp, stamp);
    }

    private record Subject(long agentId, OptionalLong cabinetId, Boot boot) {}

    private void raised(
            Subject subject, Finding finding, JournalRecord.Event event, Boot.Stamp stamp)
            throws SQLException {
        countOpen.setLong(1, subject.boot.id());
        bindTrouble(countOpen, 2, subject, finding);
        try (var rows = countOpen.executeQuery()) {
            rows.next();
            if (rows.getLong(1) > 0) {
                return;
            }
        }
        insert(subject, event, since(finding, stamp), null);
    }

    private void cleared(
            Subject subject, Finding finding, JournalRecord.Event event, Boot.Stamp stamp)
            throws SQLException {
        end.setLong(1, stamp.timeMillis());
        end.setLong(2, stamp.timeMillis());
        setCorrectable(end, 3, stamp);
        end.setLong(4, subject.boot.id());
        bindTrouble(end, 5, subject, finding);
        if (end.executeUpdate() == 0) {
            // Its raising is not in the journal any more, or never was.
            insert(subject, event, since(finding, stamp), stamp);
        }
    }

    /** Since when a finding has held: it may have been watched for a while before it was raised. */
    private static Boot.Stamp since(Finding finding, Boot.Stamp stamp) {
        long raised = TimeUnit.NANOSECONDS.toMillis(finding.raisedAtNanos());
        long before = Math.max(0, stamp.monotonicMillis() - raised);
        return new Boot.Stamp(
                stamp.timeMillis() - before,
                stamp.monotonicMillis() - before,
                stamp.isProvisional());
    }

    private void insert(
            Subject subject,
            JournalRecord.Event event,
            Boot.Stamp begin,
            Boot.@Nullable Stamp endOrOpen)
            throws SQLException {
        insert(subject, event.finding(), event.words(), begin, endOrOpen);
    }

    private void insert(
            Subject subject,
            Optional<Finding> finding,
            String words,
            Boot.Stamp begin,
            Boot.@Nullable Stamp endOrOpen)
            throws SQLException {
        insert.setLong(1, subject.agentId);
        setOptional(insert, 2, subject.cabinetId);
        insert.setLong(3, subject.boot.id());
        insert.setString(4, finding.map(f -> f.code().value()).orElse(null));
        insert.setString(5, finding.flatMap(Finding::probe).map(p -> p.value()).orElse(null));
        insert.setLong(6, begin.timeMillis());
        setCorrectable(insert, 7, begin);
        if (endOrOpen == null) {
            insert.setNull(8, Types.INTEGER);
            insert.setNull(9, Types.INTEGER);
        } else {
            insert.setLong(8, endOrOpen.timeMillis());
            setCorrectable(insert, 9, endOrOpen);
        }
        insert.setString(10, words);
        insert.executeUpdate();
    }

    private static void bindTrouble(
            PreparedStatement statement, int first, Subject subject, Finding finding)
            throws SQLException {
        statement.setLong(first, subject.agentId);
        setOptional(statement, first + 1, subject.cabinetId);
        statement.setString(first + 2, finding.code().value());
        statement.setString(first + 3, finding.probe().map(p -> p.value()).orElse(null));
    }

    private static void setOptional(PreparedStatement statement, int index, OptionalLong value)
            throws SQLException {
        if (value.isPresent()) {
            statement.setLong(index, value.getAsLong());
        } else {
            statement.setNull(index, Types.INTEGER);
        }
    }

    private static void setCorrectable(PreparedStatement statement, int index, Boot.Stamp stamp)
            throws SQLException {
        setOptional(
                statement,
                index,
                stamp.isProvisional()
                        ? OptionalLong.of(stamp.monotonicMillis())
                        : OptionalLong.empty());
    }
}
