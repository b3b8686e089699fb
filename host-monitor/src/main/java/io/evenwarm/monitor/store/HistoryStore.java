package io.evenwarm.monitor.store;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.SystemClock;
import io.evenwarm.message.AgentName;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.ProbeSensor;
import io.evenwarm.monitor.alert.AlarmStore;
import io.evenwarm.monitor.alert.DrillStore;
import io.evenwarm.monitor.history.HistoryWriter;
import io.evenwarm.monitor.history.ImportCount;
import io.evenwarm.monitor.history.JournalPosition;
import io.evenwarm.monitor.history.ReadingSource;
import io.evenwarm.monitor.history.Retention;
import io.evenwarm.monitor.notice.NoticeStore;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import org.jspecify.annotations.Nullable;

/**
 * The history in one SQLite file, {@value #FILE_NAME}, of a data folder that it locks for itself,
 * or in a database of a PostgreSQL server.
 *
 * <p>Threads: any may call. Those that write take turns; those that read don't wait for them and
 * see whole batches only.
 */
public final class HistoryStore extends Queries implements HistoryWriter, AutoCloseable {

    /** The store's file in the data folder. */
    public static final String FILE_NAME = "history.sqlite";

    private static final System.Logger LOG = System.getLogger(HistoryStore.class.getName());

    /** A write that lasts longer hangs. */
    private static final Duration WRITE_MAX = Duration.ofSeconds(60);

    private final Database database;
    private final Runnable unlock;
    private final Object writing = new Object();

    /** Guarded by {@link #writing}: empty after a failure, until the next use. */
    private @Nullable Appender appender;

    /** Guarded by {@link #writing}. */
    private boolean isClosed;

    private final MonotonicClock clock = SystemClock.monotonic();

    /** Why the last write failed; empty when it did not. */
    private volatile Optional<String> lastTrouble = Optional.empty();

    /** Since when a write has been under way; empty when none is. */
    private volatile OptionalLong writingSinceNanos = OptionalLong.empty();

    private final ReadPool readers;

    private HistoryStore(Database database, Runnable unlock, Appender appender) {
        this.database = database;
        this.unlock = unlock;
        this.appender = appender;
        readers = new ReadPool(database);
    }

    /**
     * Opens the store of a data folder; makes both where they are not there yet.
     *
     * @throws StoreException when the folder can't be used or its store is not one that this
     *     program may write; nothing was changed then
     */
    public static HistoryStore open(Path folder) throws StoreException {
        return open(folder, connection -> {});
    }

    /** As {@link #open(Path)}; {@code tuning} has a last word on the writing connection. */
    static HistoryStore open(Path folder, Connections.Tuning tuning) throws StoreException {
        try {
            Files.createDirectories(folder);
        } catch (IOException e) {
            throw new StoreException(
                    "can't make the data folder "
                            + folder
                            + " ("
                            + e
                            + "): name another data_folder, or make it for this user",
                    e);
        }
        FolderLock lock = FolderLock.take(folder);
        boolean done = false;
        try {
            Database database = new SqliteDatabase(folder.resolve(FILE_NAME), tuning);
            HistoryStore store = new HistoryStore(database, lock::close, openAppender(database));
            done = true;
            return store;
        } finally {
            if (!done) {
                lock.close();
            }
        }
    }

    /**
     * Opens the store in a database of a PostgreSQL server; makes its tables where they are not
     * there yet.
     *
     * @param url {@code jdbc:postgresql:…}
     * @throws StoreException when the server can't be used or the database is not one that this
     *     program may write; nothing was changed then
     */
    public static HistoryStore openAt(String url) throws StoreException {
        if (!url.startsWith(PostgresDatabase.URL_BEGIN)) {
            throw new StoreException(
                    "a store's URL must begin with "
                            + PostgresDatabase.URL_BEGIN
                            + " but was "
                            + url);
        }
        Database database = new PostgresDatabase(url);
        return new HistoryStore(database, () -> {}, openAppender(database));
    }

    private static Appender openAppender(Database database) throws StoreException {
        try {
            Connection connection = database.openForWriting();
            boolean done = false;
            try {
                Appender appender = new Appender(connection);
                done = true;
                return appender;
            } finally {
                if (!done) {
                    Connections.closeQuietly(connection);
                }
            }
        } catch (SQLException e) {
            throw database.trouble("can't open", e);
        }
    }

    /** Where the store is, for a person. */
    public String where() {
        return database.where();
    }

    @Override
    public long lastSequence(AgentName agent, String journal) throws StoreException {
        return position(agent, Optional.of(journal)).map(JournalPosition::lastSequence).orElse(0L);
    }

    @Override
    public Optional<JournalPosition> newestJournal(AgentName agent) throws StoreException {
        return position(agent, Optional.empty());
    }

    private Optional<JournalPosition> position(AgentName agent, Optional<String> journal)
            throws StoreException {
        synchronized (writing) {
            try {
                return appender().position(agent, journal);
            } catch (SQLException e) {
                discardAppender();
                throw database.trouble("can't read", e);
            }
        }
    }

    @Override
    public void append(AgentName agent, String journal, List<JournalRecord> records)
            throws StoreException {
        requireRising(records);
        long unusedRows =
                writing(
                        appender -> {
                            appender.append(agent, journal, records);
                            return records.size();
                        });
    }

    /**
     * As {@link #append}, of a journal that the agent kept before the one in use: nothing that is
     * open in that ends with it. To stay the earlier one, it must have been named, with no records,
     * to {@link #append} before any other.
     */
    public void appendEarlier(AgentName agent, String journal, List<JournalRecord> records)
            throws StoreException {
        requireRising(records);
        long unusedRows =
                writing(
                        appender -> {
                            appender.appendEarlier(agent, journal, records);
                            return records.size();
                        });
    }

    /** Nothing more comes of such a journal: what is open in it ends with its last entry. */
    public void endEarlier(AgentName agent, String journal) throws StoreException {
        long unusedRows =
                writing(
                        appender -> {
                            appender.endEarlier(agent, journal);
                            return 0;
                        });
    }

    private static void requireRising(List<JournalRecord> records) {
        for (int i = 1; i < records.size(); i++) {
            if (records.get(i).sequence() <= records.get(i - 1).sequence()) {
                throw new IllegalArgumentException(
                        "sequence numbers must rise but "
                                + records.get(i).sequence()
                                + " came after "
                                + records.get(i - 1).sequence());
            }
        }
    }

    @Override
    public void sensors(AgentName agent, List<ProbeSensor> sensors, Instant now)
            throws StoreException {
        int unusedRows =
                write(connection -> new ProbeEntries(connection).addSensors(agent, sensors, now));
    }

    /** Notices and their deliveries, in the same store. */
    public NoticeStore notices() {
        return new StoredNotices(this);
    }

    /** The alarm log, in the same store. */
    public AlarmStore alarms() {
        return new StoredAlarms(this);
    }

    /** Drills that somebody asks for, in the same store. */
    public DrillStore drills() {
        return new StoredDrills(this);
    }

    /** When the monitor itself runs, in the same store. */
    public StoredRuns runs() {
        return new StoredRuns(this);
    }

    /** Writes something of another port's, all of it or nothing. */
    <R> R write(Appender.Write<R> write) throws StoreException {
        return writing(appender -> appender.write(write));
    }

    /** One use of the writing connection. */
    private interface Writing<R> {
        R with(Appender appender) throws SQLException;
    }

    private <R> R writing(Writing<R> work) throws StoreException {
        synchronized (writing) {
            writingSinceNanos = OptionalLong.of(clock.nanos());
            try {
                R result = work.with(appender());
                lastTrouble = Optional.empty();
                return result;
            } catch (SQLException e) {
                discardAppender();
                throw told(database.trouble("can't write", e));
            } catch (StoreException e) {
                throw told(e);
            } finally {
                writingSinceNanos = OptionalLong.empty();
            }
        }
    }

    private StoreException told(StoreException trouble) {
        lastTrouble = Optional.of(String.valueOf(trouble.getMessage()));
        return trouble;
    }

    /**
     * Why what must be kept is not: the last write failed, or one does not end. Waits for nothing.
     *
     * @return words for a person; empty when all is well
     */
    public Optional<String> trouble() {
        OptionalLong since = writingSinceNanos;
        if (since.isPresent() && clock.nanos() - since.getAsLong() > WRITE_MAX.toNanos()) {
            return Optional.of(
                    "a write to " + where() + " has not ended for " + WRITE_MAX.toSeconds() + " s");
        }
        return lastTrouble;
    }

    /**
     * Removes what is older than its retention, a slice of each cabinet. Writers wait for a slice;
     * call this again until nothing is removed.
     *
     * @return how many rows were removed
     */
    public long thin(Retention retention, Instant now) throws StoreException {
        return writing(appender -> appender.thin(retention, now.toEpochMilli()));
    }

    /**
     * Removes what was said to people about events that are over, 90 days later, and links that
     * have ended, a slice at a time; call this again until nothing is removed.
     *
     * @return how many rows were removed
     */
    public long forgetNotices(Instant now) throws StoreException {
        return write(connection -> StoredNotices.forgetOld(connection, now));
    }

    /**
     * Stores all readings of a source, or none. Those of a time at which their probe has a reading
     * already are passed over, so the same file twice is as once.
     *
     * @throws IOException what the source throws, or why the store can't be written
     */
    public ImportCount importReadings(ReadingSource source) throws IOException {
        synchronized (writing) {
            boolean done = false;
            try {
                ImportCount count = appender().importReadings(source);
                done = true;
                return count;
            } catch (SQLException e) {
                throw database.trouble("can't write", e);
            } finally {
                if (!done) {
                    discardAppender();
                }
            }
        }
    }

    /**
     * Takes in an archive of a whole store; this one must be empty.
     *
     * @return how many rows it had
     */
    public long importAll(Path archive) throws IOException {
        synchronized (writing) {
            try {
                return appender().importAll(archive, database);
            } catch (SQLException e) {
                throw database.trouble("can't write", e);
            } finally {
                // What it knows of names and their numbers is that of the empty store.
                discardAppender();
            }
        }
    }

    /** The one that writes, opened anew after a failure. Called under {@link #writing}. */
    private Appender appender() throws StoreException {
        if (isClosed) {
            throw new StoreException("the store " + database.where() + " is closed");
        }
        Appender open = appender;
        if (open == null) {
            open = openAppender(database);
            appender = open;
        }
        return open;
    }

    /** Closing the connection rolls back whatever it had begun. Called under {@link #writing}. */
    private void discardAppender() {
        Appender broken = appender;
        appender = null;
        if (broken != null) {
            try {
                broken.close();
            } catch (SQLException e) {
                LOG.log(System.Logger.Level.WARNING, "closing " + database.where(), e);
            }
        }
    }

    @Override
    <R> R read(ReadPool.Query<R> query) {
        return readers.read(query);
    }

    /** Verifies the store as of one moment. */
    StoreReport check() {
        return read(connection -> new StoreCheck(connection).run(database));
    }

    /**
     * Asks something of another port's.
     *
     * @param what is asked for, to stand in an error
     */
    <R> R ask(String what, ReadPool.Query<R> query) throws StoreException {
        try {
            return read(query);
        } catch (UncheckedIOException e) {
            throw new StoreException("can't read " + what + " of " + where(), e);
        }
    }

    /** Folds the write-ahead log into the file and unlocks the folder. */
    @Override
    public void close() {
        readers.close();
        synchronized (writing) {
            if (isClosed) {
                return;
            }
            isClosed = true;
            discardAppender();
        }
        unlock.run();
    }
}
