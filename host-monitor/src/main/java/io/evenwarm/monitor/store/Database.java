package io.evenwarm.monitor.store;

import java.sql.Connection;
import java.sql.SQLException;
import java.util.List;

/** What a store lives in. All that differs from one to another stands behind this. */
interface Database {

    /** Where it is, for a person. */
    String where();

    /**
     * The one connection that writes, its tables brought up to date.
     *
     * @throws StoreException when it is not one that this program may write; nothing was changed
     *     then
     */
    Connection openForWriting() throws SQLException, StoreException;

    /** One of the connections that only read. */
    Connection openForReading() throws SQLException;

    /** The words for what went wrong. {@code doing} is for example "can't write". */
    StoreException trouble(String doing, SQLException cause);

    /** What is damaged inside, as far as the database itself can tell; empty when nothing is. */
    List<String> damage(Connection connection) throws SQLException;

    /** Rows came with numbers of their own; those that are given out next must be others. */
    void afterRowsCame(Connection connection) throws SQLException;
}
