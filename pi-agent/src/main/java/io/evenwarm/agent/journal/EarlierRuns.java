package io.evenwarm.agent.journal;

import io.evenwarm.codec.MessageCodec;
import io.evenwarm.message.BootId;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.JournalRecord.Event;
import io.evenwarm.message.Moment;
import io.evenwarm.message.PreviousRun;
import io.evenwarm.message.PreviousRun.Ending;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.Optional;
import java.util.UUID;

/** What an open journal, and a note beside it, tell of the runs before this one. */
final class EarlierRuns {

    private static final long NANOS_PER_MILLI = 1_000_000L;

    private final Connection connection;
    private final MessageCodec codec;

    EarlierRuns(Connection connection, MessageCodec codec) {
        this.connection = connection;
        this.codec = codec;
    }

    /**
     * How the last run before {@code current} ended; empty when there was none.
     *
     * <p>The note is written once a minute and the journal every few seconds, but a journal's disk
     * may fail: the later of the two counts, and an end that either of them saw.
     */
    Optional<PreviousRun> previous(BootId current, RunStart start) throws SQLException {
        Optional<RunStart.Earlier> journalled = lastJournalled(current);
        Optional<RunStart.Earlier> noted = start.earlier();
        if (journalled.isEmpty() || noted.isEmpty()) {
            return ending(journalled.isPresent() ? journalled : noted, start);
        }
        return ending(Optional.of(newer(journalled.get(), noted.get())), start);
    }

    /** What a note alone tells. */
    static Optional<PreviousRun> noted(RunStart start) {
        return ending(start.earlier(), start);
    }

    private static Optional<PreviousRun> ending(
            Optional<RunStart.Earlier> earlier, RunStart start) {
        return earlier.map(run -> new PreviousRun(ending(run, start), run.lastAlive()));
    }

    private static Ending ending(RunStart.Earlier run, RunStart start) {
        if (run.hasEnded()) {
            return Ending.ORDERLY;
        }
        if (run.machineBoot().isEmpty() || start.machineBoot().isEmpty()) {
            return Ending.UNKNOWN;
        }
        return run.machineBoot().equals(start.machineBoot()) ? Ending.CRASH : Ending.POWER_LOSS;
    }

    private RunStart.Earlier newer(RunStart.Earlier journalled, RunStart.Earlier noted)
            throws SQLException {
        Optional<Moment> journalMoment = journalled.lastAlive();
        Optional<Moment> noteMoment = noted.lastAlive();
        boolean isSameRun =
                noteMoment.isEmpty()
                        || journalMoment.map(Moment::boot).equals(noteMoment.map(Moment::boot));
        if (!isSameRun) {
            return isJournalled(noteMoment.get().boot()) ? journalled : noted;
        }
        boolean isNoteLater =
                noteMoment.isPresent()
                        && journalMoment
                                .map(
                                        moment ->
                                                noteMoment.get().monotonicNanos()
                                                        > moment.monotonicNanos())
                                .orElse(true);
        return new RunStart.Earlier(
                journalled.machineBoot().or(noted::machineBoot),
                journalled.hasEnded() || noted.hasEnded(),
                isNoteLater ? noteMoment : journalMoment);
    }

    private boolean isJournalled(BootId boot) throws SQLException {
        try (PreparedStatement find =
                connection.prepareStatement("SELECT 1 FROM boot WHERE name = ?")) {
            find.setString(1, boot.toString());
            try (ResultSet row = find.executeQuery()) {
                return row.next();
            }
        }
    }

    private Optional<RunStart.Earlier> lastJournalled(BootId current) throws SQLException {
        try (PreparedStatement find =
                connection.prepareStatement(
                        "SELECT boot.name, machine, trusted_offset_millis, monotonic_nanos,"
                                + " wall_millis, wall_trusted, kind, body FROM record"
                                + " JOIN boot ON boot.id = record.boot WHERE boot.name <> ?"
                                + " ORDER BY sequence DESC LIMIT 1")) {
            find.setString(1, current.toString());
            try (ResultSet row = find.executeQuery()) {
                if (!row.next()) {
                    return Optional.empty();
                }
                Moment recorded =
                        new Moment(
                                new BootId(UUID.fromString(row.getString(1))),
                                row.getLong(4),
                                Instant.ofEpochMilli(row.getLong(5)),
                                row.getInt(6) == 1);
                long offsetMillis = row.getLong(3);
                Moment moment = row.wasNull() ? recorded : corrected(recorded, offsetMillis);
                boolean isEnd =
                        row.getInt(7) != JournalSchema.READINGS_KIND && isStop(row.getBytes(8));
                return Optional.of(
                        new RunStart.Earlier(
                                Optional.ofNullable(row.getString(2)), isEnd, Optional.of(moment)));
            }
        }
    }

    private boolean isStop(byte[] body) {
        Optional<JournalRecord> record = codec.decodeRecord(body).value();
        return record.isPresent()
                && record.get() instanceof Event event
                && event.kind() == Event.Kind.AGENT_STOPPED;
    }

    /** The newest moment of an earlier run that a trusted clock dates. */
    Optional<Instant> lastTrusted(BootId current) throws SQLException {
        try (PreparedStatement find =
                connection.prepareStatement(
                        "SELECT record_time.wall_millis FROM record_time"
                                + " JOIN boot ON boot.name = record_time.boot"
                                + " WHERE boot.name <> ?"
                                + " AND (wall_trusted = 1 OR trusted_offset_millis IS NOT NULL)"
                                + " ORDER BY sequence DESC LIMIT 1")) {
            find.setString(1, current.toString());
            try (ResultSet row = find.executeQuery()) {
                return row.next()
                        ? Optional.of(Instant.ofEpochMilli(row.getLong(1)))
                        : Optional.empty();
            }
        }
    }

    /** A moment of a run whose clock was set later, by how far its two clocks lay apart then. */
    static Moment corrected(Moment recorded, long trustedOffsetMillis) {
        if (recorded.wallTrusted()) {
            return recorded;
        }
        return recorded.corrected(
                Instant.ofEpochMilli(
                        Math.floorDiv(recorded.monotonicNanos(), NANOS_PER_MILLI)
                                + trustedOffsetMillis));
    }

    /** How far apart the clocks of a trusted moment lie. */
    static long offsetMillis(Moment trusted) {
        return trusted.wall().toEpochMilli()
                - Math.floorDiv(trusted.monotonicNanos(), NANOS_PER_MILLI);
    }
}
