package io.evenwarm.monitor.store;

import com.sun.jna.Function;
import com.sun.jna.NativeLibrary;
import io.evenwarm.message.AgentName;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.monitor.Journal;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.Curve;
import io.evenwarm.monitor.history.TimeSpan;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.logging.Level;
import java.util.logging.Logger;

/**
 * A store on a disk whose Nth write, sync, opening or change of a name fails, for every N until a
 * run is clean: a program of its own for {@link FailingDiskStoreIT}. What was not taken is handed
 * in again, as intake does. Ends with 0 when all held.
 */
final class FailingDiskStoreProcess {

    /** Error numbers: errno(3), Linux. */
    private static final int EIO = 5;

    private static final int ENOSPC = 28;

    private static final AgentName AGENT = new AgentName("egg room");
    private static final int BATCHES = 12;
    private static final int BATCH_RECORDS = 5;
    private static final int TRIES = 5;

    private final Path folder;
    private final Function fail;
    private final Function calls;

    private FailingDiskStoreProcess(Path folder) {
        this.folder = folder;
        NativeLibrary layer = NativeLibrary.getProcess();
        this.fail = layer.getFunction("file_layer_fail");
        this.calls = layer.getFunction("file_layer_calls");
    }

    public static void main(String[] arguments) throws IOException, SQLException {
        Logger.getLogger("io.evenwarm").setLevel(Level.OFF);
        FailingDiskStoreProcess process = new FailingDiskStoreProcess(Path.of(arguments[0]));
        process.everyCall("once with EIO", false, EIO);
        process.everyCall("once with ENOSPC", false, ENOSPC);
        process.everyCall("from then on with EIO", true, EIO);
    }

    private void everyCall(String how, boolean andAllAfter, int error)
            throws IOException, SQLException {
        int told = 0;
        long number = 0;
        boolean isReached = true;
        while (isReached) {
            number++;
            Path data = folder.resolve("run-" + andAllAfter + error + "-" + number);
            fail.invoke(new Object[] {number, andAllAfter ? 1 : 0, error});
            boolean isTold = run(data);
            isReached = calls.invokeLong(new Object[] {}) >= number;
            fail.invoke(new Object[] {0L, 0, 0});
            told += isTold ? 1 : 0;
            if (andAllAfter) {
                run(data);
            }
            check(data, how + ", call " + number);
        }
        System.out.println(
                "kept-2 monitor, each call "
                        + how
                        + ": "
                        + (number - 1)
                        + " calls; sound, nothing acknowledged lost, nothing doubled; "
                        + told
                        + " told");
    }

    /** Stores all batches that are not stored yet; whether an error was told. */
    private static boolean run(Path data) {
        boolean isTold = false;
        for (int attempt = 0; attempt < TRIES; attempt++) {
            try (HistoryStore store = HistoryStore.open(data)) {
                for (int batch = 0; batch < BATCHES; batch++) {
                    isTold |= append(store, batch);
                }
                return isTold;
            } catch (StoreException e) {
                isTold = true;
            }
        }
        return isTold;
    }

    private static boolean append(HistoryStore store, int batch) throws StoreException {
        boolean isTold = false;
        for (int attempt = 0; ; attempt++) {
            try {
                store.append(AGENT, "j1", records(batch));
                return isTold;
            } catch (StoreException e) {
                isTold = true;
                if (attempt == TRIES) {
                    throw e;
                }
            }
        }
    }

    private static List<JournalRecord> records(int batch) {
        Journal journal = new Journal().afterSequence((long) batch * BATCH_RECORDS);
        for (int i = 1; i <= BATCH_RECORDS; i++) {
            journal.top(5.0 * (batch * BATCH_RECORDS + i), 31);
        }
        return journal.take();
    }

    private static void check(Path data, String where) throws IOException, SQLException {
        Path file = data.resolve(HistoryStore.FILE_NAME);
        if (!Files.exists(file)) {
            throw new IllegalStateException(where + ": no store was made");
        }
        try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + file);
                Statement statement = connection.createStatement();
                ResultSet rows = statement.executeQuery("PRAGMA integrity_check")) {
            rows.next();
            require("ok".equals(rows.getString(1)), where, "the store is damaged");
        }
        try (HistoryStore store = HistoryStore.open(data)) {
            int all = BATCHES * BATCH_RECORDS;
            require(store.lastSequence(AGENT, "j1") == all, where, "not all is stored");
            Optional<Curve> curve =
                    store
                            .curves(
                                    new CabinetKey(AGENT, Journal.NORTH),
                                    new TimeSpan(Instant.EPOCH, Journal.at(1e9)))
                            .probes()
                            .stream()
                            .map(probe -> probe.curve())
                            .findFirst();
            require(curve.isPresent() && curve.get().size() == all, where, "not each reading once");
            for (int i = 0; i < all; i++) {
                require(
                        curve.get().epochMillis(i) == Journal.at(5.0 * (i + 1)).toEpochMilli(),
                        where,
                        "out of order");
            }
        }
    }

    private static void require(boolean holds, String where, String words) {
        if (!holds) {
            throw new IllegalStateException(where + ": " + words);
        }
    }
}
