package io.evenwarm.monitor.store;

import io.evenwarm.message.Finding;
import io.evenwarm.message.JournalRecord;

import org.jspecify.annotations.Nullable;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.sql.Types;
import java.util.OptionalLong;
import java.util.concurrent.TimeUnit;

/**
 * Turns events into lines of the log: a finding's raising and clearing become one line with a begin
 * and an end; anything else is a line of its own. Used under the writer's lock, inside its
 * transaction.
 */
final class LogBook {

    /** What an entry says when nobody saw its finding clear. */
    static final String UNTIL_STOPPED = " (until the agent stopped)";

    private static final String SAME_TROUBLE =
            " WHERE end_millis IS NULL AND agent_id = ? AND cabinet_id IS NOT DISTINCT FROM ?"
                    + " AND code = ? AND probe IS NOT DISTINCT FROM ?";

    private final PreparedStatement insert;
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
        countOpen = connection.prepareStatement("SELECT count(*) FROM log_entry" + SAME_TROUBLE);
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
                            + " WHERE end_millis IS NULL AND agent_id = ? AND boot_id <> ?");
    }

    /**
     * A new run of the agent began. What was open in the run before it ended with that run, as far
     * as anyone can know; the new run raises again what still holds.
     */
    void bootBegan(long agentId, Boot boot) throws SQLException {
        endOfBoot.setString(1, UNTIL_STOPPED);
        endOfBoot.setLong(2, agentId);
        endOfBoot.setLong(3, boot.id());
        endOfBoot.executeUpdate();
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
        bindTrouble(countOpen, 1, subject, finding);
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
        insert.setLong(1, subject.agentId);
        setOptional(insert, 2, subject.cabinetId);
        insert.setLong(3, subject.boot.id());
        insert.setString(4, event.finding().map(f -> f.code().value()).orElse(null));
        insert.setString(5, probeOf(event));
        insert.setLong(6, begin.timeMillis());
        setCorrectable(insert, 7, begin);
        if (endOrOpen == null) {
            insert.setNull(8, Types.INTEGER);
            insert.setNull(9, Types.INTEGER);
        } else {
            insert.setLong(8, endOrOpen.timeMillis());
            setCorrectable(insert, 9, endOrOpen);
        }
        insert.setString(10, event.words());
        insert.executeUpdate();
    }

    private static @Nullable String probeOf(JournalRecord.Event event) {
        return event.finding().flatMap(Finding::probe).map(p -> p.value()).orElse(null);
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
