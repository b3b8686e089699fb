package io.evenwarm.monitor.store;

import java.io.IOException;
import java.nio.file.Path;
import java.sql.SQLException;
import java.util.Locale;
import org.sqlite.SQLiteErrorCode;

/** The store can't be opened, read or written; the message says why, and what to do next. */
public final class StoreException extends IOException {

    private static final long serialVersionUID = 1L;

    StoreException(String message) {
        super(message);
    }

    StoreException(String message, Throwable cause) {
        super(message, cause);
    }

    /** The words for what SQLite reported. {@code doing} is for example "can't write". */
    static StoreException of(String doing, Path file, SQLException cause) {
        return new StoreException(doing + " " + file + ": " + advice(cause), cause);
    }

    private static String advice(SQLException cause) {
        // The low byte is the primary result code (sqlite.org/rescode.html, "Extended result
        // codes").
        SQLiteErrorCode code = SQLiteErrorCode.getErrorCode(cause.getErrorCode() & 0xff);
        return switch (code) {
            case SQLITE_FULL ->
                    "the disk is full. Nothing is lost while the agents keep their journals: make"
                            + " room, and the monitor goes on by itself";
            case SQLITE_NOTADB ->
                    "it is not a monitor's store. Move it away, or name another data_folder";
            case SQLITE_CORRUPT ->
                    "it is damaged. Move it away and start again: the agents send again what their"
                            + " journals still hold";
            case SQLITE_READONLY, SQLITE_CANTOPEN, SQLITE_PERM ->
                    "the file or its folder can't be written. Give this user the right to write"
                            + " there, or name another data_folder";
            case SQLITE_BUSY, SQLITE_LOCKED ->
                    "another program is using it. End that program and try again";
            case SQLITE_IOERR -> "the disk reports an error (" + plain(cause) + ")";
            default -> plain(cause);
        };
    }

    private static String plain(SQLException cause) {
        String message = String.valueOf(cause.getMessage());
        return message.toLowerCase(Locale.ROOT).startsWith("[sqlite_")
                ? message.substring(message.indexOf(']') + 1).strip()
                : message;
    }
}
