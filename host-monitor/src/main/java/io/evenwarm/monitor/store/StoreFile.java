package io.evenwarm.monitor.store;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.sql.Connection;
import java.sql.SQLException;
import org.sqlite.SQLiteConnection;

/** Looks after the store of a data folder from outside, also while a monitor uses it. */
public final class StoreFile extends StoreOutside {

    /** All pages at once: a copy in steps would begin anew at each write of the monitor. */
    private static final int ALL_PAGES = -1;

    private static final int BUSY_SLEEP_MILLIS = 100;
    private static final int BUSY_TRIES = 100;

    private final Path file;

    /** The store of a data folder. */
    public StoreFile(Path folder) {
        super(new SqliteDatabase(folder.resolve(HistoryStore.FILE_NAME)));
        file = folder.resolve(HistoryStore.FILE_NAME);
    }

    /**
     * Copies the store as of one moment into a new file, by SQLite's online backup
     * (sqlite.org/backup.html). The file has its name once it is whole.
     *
     * @throws StoreException when there is a file of that name, or it can't be written
     */
    public void copyTo(Path target) throws StoreException {
        if (Files.exists(target)) {
            throw new StoreException(
                    target + " is there already: name another file, or move that one away");
        }
        Path part = target.resolveSibling(target.getFileName() + ".part");
        try (Connection connection = open()) {
            Files.deleteIfExists(part);
            int code =
                    connection
                            .unwrap(SQLiteConnection.class)
                            .getDatabase()
                            .backup(
                                    "main",
                                    part.toString(),
                                    (remaining, pageCount) -> {},
                                    BUSY_SLEEP_MILLIS,
                                    BUSY_TRIES,
                                    ALL_PAGES);
            if (code != 0) {
                throw new StoreException(
                        "can't copy "
                                + file
                                + " to "
                                + target
                                + " (SQLite's code "
                                + code
                                + "): is there room, and may this user write there?");
            }
            Files.move(part, target, StandardCopyOption.ATOMIC_MOVE);
        } catch (SQLException e) {
            throw StoreException.of("can't copy", file, e);
        } catch (StoreException e) {
            throw e;
        } catch (IOException e) {
            throw new StoreException(
                    "can't write "
                            + target
                            + " ("
                            + e
                            + "): give this user the right to write there, or name another file",
                    e);
        } finally {
            removeQuietly(part);
        }
    }

    private static void removeQuietly(Path part) {
        try {
            Files.deleteIfExists(part);
        } catch (IOException e) {
            System.getLogger(StoreFile.class.getName())
                    .log(System.Logger.Level.WARNING, "removing " + part, e);
        }
    }

    @Override
    Connection open() throws SQLException, StoreException {
        requireFile();
        return current(Connections.openForReading(file));
    }

    @Override
    Connection openForWriting() throws SQLException, StoreException {
        requireFile();
        Connection connection = current(Connections.openForWriting(file));
        Connections.makeDurable(connection);
        return connection;
    }

    private void requireFile() throws StoreException {
        if (!Files.exists(file)) {
            throw new StoreException(
                    "there is no store "
                            + file
                            + ": is data_folder in the settings the right one? A monitor makes it"
                            + " when it first runs");
        }
    }

    private Connection current(Connection connection) throws SQLException, StoreException {
        boolean done = false;
        try {
            Schema.requireCurrent(connection, file);
            done = true;
            return connection;
        } finally {
            if (!done) {
                Connections.closeQuietly(connection);
            }
        }
    }
}
