package io.evenwarm.agent.journal;

import io.evenwarm.codec.MessageCodec;
import io.evenwarm.message.BootId;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.JournalRecord.Readings;
import io.evenwarm.message.Moment;
import io.evenwarm.message.PreviousRun;
import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.sql.Types;
import java.time.Instant;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * The open file, as its one writer sees it.
 *
 * <p>Used by the journal's thread only. After a fault it must be closed and opened anew: only then
 * is it known whether the failed transaction is in the file. Where a sync failed, it may be.
 */
final class JournalFile implements AutoCloseable {

    /**
     * At most this many records are removed at a time, so that a wall clock that is wrong for an
     * hour costs the oldest few hours and not the whole journal.
     */
    static final int REMOVED_AT_ONCE = 5000;

    private final Path path;
    private final long maximumBytes;
    private final Connection connection;
    private final PreparedStatement insert;
    private final MessageCodec codec;
    private final Optional<String> machineBoot;
    private final String name;
    private final Map<BootId, Long> boots = new HashMap<>();

    /** Runs whose trusted offset is in the file, or in the transaction that is being written. */
    private final Set<Long> datedBoots = new HashSet<>();

    private final Map<CabinetLayout, Long> layouts = new HashMap<>();
    private long lastSequence;
    private boolean isFolderSynced;

    private JournalFile(
            Path path,
            long maximumBytes,
            Connection connection,
            MessageCodec codec,
            Optional<String> machineBoot)
            throws SQLException {
        this.path = path;
        this.maximumBytes = maximumBytes;
        this.connection = connection;
        this.codec = codec;
        this.machineBoot = machineBoot;
        this.insert =
                connection.prepareStatement("INSERT INTO record VALUES (?, ?, ?, ?, ?, ?, ?, ?)");
        try (Statement statement = connection.createStatement()) {
            this.lastSequence = JournalSchema.number(statement, "SELECT max(sequence) FROM record");
            this.name = JournalSchema.text(statement, "SELECT name FROM journal");
        }
    }

    /**
     * Opens the file, or begins it when it is not there.
     *
     * @param machineBoot kept with the runs that are first written from here on
     */
    static JournalFile open(
            JournalSettings settings, MessageCodec codec, Optional<String> machineBoot)
            throws JournalFault {
        Path path = settings.file().toAbsolutePath();
        makeFolder(path);
        try {
            Connection connection = DriverManager.getConnection("jdbc:sqlite:" + path);
            try {
                JournalSchema.prepare(connection, path, settings.maximumBytes());
                return new JournalFile(
                        path, settings.maximumBytes(), connection, codec, machineBoot);
            } catch (SQLException | JournalFault e) {
                connection.close();
                throw e;
            }
        } catch (SQLException e) {
            throw JournalFault.of(path, e);
        }
    }

    private static void makeFolder(Path path) throws JournalFault {
        Path folder = path.getParent();
        if (folder == null) {
            return;
        }
        try {
            Files.createDirectories(folder);
        } catch (IOException e) {
            String why =
                    e instanceof FileAlreadyExistsException
                            ? "a file of that name is in the way"
                            : e.toString();
            throw new JournalFault(
                    JournalFault.Cure.TRY_AGAIN,
                    "the journal's folder "
                            + folder
                            + " can't be made ("
                            + why
                            + "). Make it, and let the agent's user write to it");
        }
    }

    /** The number of the last record that is committed; 0 when there is none. */
    long lastSequence() {
        return lastSequence;
    }

    /** The journal's name: its numbers go on under this one only. */
    String name() {
        return name;
    }

    /** How the run before {@code current} ended; empty when nothing tells of one. */
    Optional<PreviousRun> previousRun(BootId current, RunStart start) throws JournalFault {
        try {
            return new EarlierRuns(connection, codec).previous(current, start);
        } catch (SQLException e) {
            throw JournalFault.of(path, e);
        }
    }

    /** The newest moment before the run {@code current} that a trusted clock dates. */
    Optional<Instant> lastTrustedBefore(BootId current) throws JournalFault {
        try {
            return new EarlierRuns(connection, codec).lastTrusted(current);
        } catch (SQLException e) {
            throw JournalFault.of(path, e);
        }
    }

    /** Whether the file is still where it was opened: a person may have moved it. */
    boolean isThere() {
        return Files.exists(path);
    }

    /**
     * Writes all of the records in one transaction, and numbers them on from the last. On return
     * they survive a power cut.
     *
     * @throws JournalFault when none of them was written
     */
    void append(List<JournalRecord> records) throws JournalFault {
        try {
            execute("BEGIN IMMEDIATE");
            try {
                long sequence = lastSequence;
                for (JournalRecord each : records) {
                    sequence++;
                    write(sequence, each);
                }
                execute("COMMIT");
                syncFolderOnce();
                lastSequence = sequence;
            } catch (SQLException | IOException e) {
                rollBack();
                throw e;
            }
        } catch (SQLException e) {
            throw JournalFault.of(path, e);
        } catch (IOException e) {
            throw new JournalFault(
                    JournalFault.Cure.TRY_AGAIN,
                    "a record can't be encoded, or the folder of "
                            + path
                            + " can't be synced: "
                            + e.getMessage());
        }
    }

    /**
     * The log's name must be on the disk as well as its content (fsync(2), "Notes"). SQLite syncs
     * the folder too, but goes on without a word when that fails.
     */
    private void syncFolderOnce() throws IOException {
        Path folder = path.getParent();
        if (isFolderSynced || folder == null) {
            return;
        }
        try (FileChannel channel = FileChannel.open(folder, StandardOpenOption.READ)) {
            channel.force(true);
        }
        isFolderSynced = true;
    }

    private void write(long sequence, JournalRecord each) throws SQLException, IOException {
        Moment moment = each.moment();
        insert.setLong(1, sequence);
        long boot = bootId(moment.boot());
        date(boot, moment);
        insert.setLong(2, boot);
        insert.setLong(3, moment.monotonicNanos());
        insert.setLong(4, moment.wall().toEpochMilli());
        insert.setInt(5, moment.wallTrusted() ? 1 : 0);
        if (each instanceof Readings readings) {
            insert.setInt(6, JournalSchema.READINGS_KIND);
            insert.setLong(7, layoutId(CabinetLayout.of(readings)));
            insert.setBytes(8, ReadingsBody.encode(readings));
        } else {
            insert.setInt(6, JournalSchema.EVENT_KIND);
            insert.setNull(7, Types.INTEGER);
            insert.setBytes(8, codec.encodeRecord(each));
        }
        insert.executeUpdate();
    }

    /**
     * The first trusted moment of a run dates those before it: by one number in the run's row, and
     * not by writing them anew. What they were recorded with stays. Runs of the agent on the same
     * boot of the machine share its monotonic clock (Linux, clock_gettime(2): CLOCK_MONOTONIC), and
     * so one that died before its clock was set is dated along.
     */
    private void date(long boot, Moment moment) throws SQLException {
        if (!moment.wallTrusted() || !datedBoots.add(boot)) {
            return;
        }
        try (PreparedStatement update =
                connection.prepareStatement(
                        "UPDATE boot SET trusted_offset_millis = ?1"
                                + " WHERE trusted_offset_millis IS NULL AND (id = ?2"
                                + " OR machine = (SELECT machine FROM boot WHERE id = ?2))")) {
            update.setLong(1, EarlierRuns.offsetMillis(moment));
            update.setLong(2, boot);
            update.executeUpdate();
        }
    }

    private long bootId(BootId boot) throws SQLException {
        Long known = boots.get(boot);
        if (known != null) {
            return known;
        }
        try (PreparedStatement add =
                        connection.prepareStatement(
                                "INSERT OR IGNORE INTO boot (name, machine) VALUES (?, ?)");
                PreparedStatement find =
                        connection.prepareStatement("SELECT id FROM boot WHERE name = ?")) {
            add.setString(1, boot.toString());
            if (machineBoot.isPresent()) {
                add.setString(2, machineBoot.get());
            } else {
                add.setNull(2, Types.VARCHAR);
            }
            add.executeUpdate();
            find.setString(1, boot.toString());
            long id = firstNumber(find);
            boots.put(boot, id);
            return id;
        }
    }

    private long layoutId(CabinetLayout layout) throws SQLException, IOException {
        Long known = layouts.get(layout);
        if (known != null) {
            return known;
        }
        try (PreparedStatement add =
                        connection.prepareStatement(
                                "INSERT OR IGNORE INTO layout (cabinet, body) VALUES (?, ?)");
                PreparedStatement find =
                        connection.prepareStatement(
                                "SELECT id FROM layout WHERE cabinet = ? AND body = ?")) {
            byte[] body = layout.encode();
            add.setString(1, layout.cabinet().value());
            add.setBytes(2, body);
            add.executeUpdate();
            find.setString(1, layout.cabinet().value());
            find.setBytes(2, body);
            long id = firstNumber(find);
            layouts.put(layout, id);
            return id;
        }
    }

    private static long firstNumber(PreparedStatement query) throws SQLException {
        try (ResultSet result = query.executeQuery()) {
            if (!result.next()) {
                throw new SQLException("a row that was just written is not there");
            }
            return result.getLong(1);
        }
    }

    /**
     * Removes the oldest records that are past their time or past the file's size, a bounded number
     * of them; the newest always stays, since its number is where the next goes on from.
     *
     * @param oldestKept records from before it go; empty when no clock can be believed
     * @return how many were removed
     */
    int trim(Optional<Instant> oldestKept) throws JournalFault {
        try (Statement statement = connection.createStatement()) {
            long boundary = oldestKept.isPresent() ? tooOld(statement, oldestKept.get()) : 0;
            if (usedBytes(statement) > maximumBytes / 10 * 9) {
                boundary = Math.max(boundary, oldestTenth(statement));
            }
            if (boundary == 0) {
                return 0;
            }
            return statement.executeUpdate(
                    "DELETE FROM record WHERE sequence <= "
                            + boundary
                            + " AND sequence < (SELECT max(sequence) FROM record)");
        } catch (SQLException e) {
            throw JournalFault.of(path, e);
        }
    }

    /** Only a trusted stamp can be too old; what stands before it is older still. */
    private static long tooOld(Statement statement, Instant oldestKept) throws SQLException {
        return JournalSchema.number(
                statement,
                "SELECT max(sequence) FROM (SELECT * FROM record ORDER BY sequence LIMIT "
                        + REMOVED_AT_ONCE
                        + ") WHERE wall_trusted = 1 AND wall_millis < "
                        + oldestKept.toEpochMilli());
    }

    private static long oldestTenth(Statement statement) throws SQLException {
        long count =
                JournalSchema.number(
                        statement, "SELECT max(sequence) - min(sequence) + 1 FROM record");
        long removed = Math.min(REMOVED_AT_ONCE, Math.max(1, count / 10));
        return JournalSchema.number(
                statement, "SELECT min(sequence) + " + (removed - 1) + " FROM record");
    }

    private static long usedBytes(Statement statement) throws SQLException {
        long pages =
                JournalSchema.number(statement, "PRAGMA page_count")
                        - JournalSchema.number(statement, "PRAGMA freelist_count");
        return pages * JournalSchema.PAGE_BYTES;
    }

    private void execute(String sql) throws SQLException {
        try (Statement statement = connection.createStatement()) {
            statement.execute(sql);
        }
    }

    private void rollBack() {
        boots.clear();
        datedBoots.clear();
        layouts.clear();
        try {
            execute("ROLLBACK");
        } catch (SQLException e) {
            // SQLite rolls back by itself on some faults, and then has nothing to roll back.
            Journal.LOG.log(System.Logger.Level.DEBUG, "roll-back: {0}", e.getMessage());
        }
    }

    @Override
    public void close() {
        try {
            insert.close();
            connection.close();
        } catch (SQLException e) {
            Journal.LOG.log(
                    System.Logger.Level.WARNING,
                    "the journal could not be closed in order: {0}",
                    e.getMessage());
        }
    }
}
