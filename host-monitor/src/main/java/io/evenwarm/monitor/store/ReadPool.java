package io.evenwarm.monitor.store;

import java.io.UncheckedIOException;
import java.sql.Connection;
import java.sql.SQLException;
import java.util.concurrent.ConcurrentLinkedDeque;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import org.jspecify.annotations.Nullable;

/** Connections that only read, at most {@value #CONNECTIONS_MAX}; whoever comes later waits. */
final class ReadPool implements AutoCloseable {

    static final int CONNECTIONS_MAX = 3;

    /** How long closing waits for queries that are under way. */
    private static final long CLOSE_SECONDS_MAX = 2;

    @FunctionalInterface
    interface Query<R> {
        R run(Connection connection) throws SQLException;
    }

    private final Database database;
    private final Semaphore permits = new Semaphore(CONNECTIONS_MAX, true);
    private final ConcurrentLinkedDeque<Connection> idle = new ConcurrentLinkedDeque<>();
    private volatile boolean isClosed;

    ReadPool(Database database) {
        this.database = database;
    }

    /**
     * Runs a query on a connection of its own.
     *
     * @throws UncheckedIOException when the store can't be read, or is closed
     */
    <R> R read(Query<R> query) {
        permits.acquireUninterruptibly();
        try {
            if (isClosed) {
                throw new UncheckedIOException(
                        new StoreException("the store " + database.where() + " is closed"));
            }
            @Nullable Connection pooled = idle.pollFirst();
            Connection connection = pooled == null ? database.openForReading() : pooled;
            boolean healthy = false;
            try {
                R result = query.run(connection);
                healthy = true;
                return result;
            } finally {
                if (healthy) {
                    idle.addFirst(connection);
                } else {
                    connection.close();
                }
            }
        } catch (SQLException e) {
            throw new UncheckedIOException(database.trouble("can't read", e));
        } finally {
            permits.release();
        }
    }

    @Override
    public void close() {
        isClosed = true;
        boolean all = false;
        try {
            all = permits.tryAcquire(CONNECTIONS_MAX, CLOSE_SECONDS_MAX, TimeUnit.SECONDS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
        @Nullable Connection connection;
        while ((connection = idle.pollFirst()) != null) {
            Connections.closeQuietly(connection);
        }
        if (all) {
            permits.release(CONNECTIONS_MAX);
        }
    }
}
