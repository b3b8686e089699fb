package io.evenwarm.agent.journal;

import java.io.IOException;
import java.nio.file.Path;
import java.sql.SQLException;
import org.sqlite.SQLiteErrorCode;
import org.sqlite.SQLiteException;

/**
 * Why the file could not be opened, written or read, in words for a person, and what may cure it.
 */
final class JournalFault extends IOException {

    private static final long serialVersionUID = 1L;

    private final Cure cure;
    private final String words;

    JournalFault(Cure cure, String words) {
        super(words);
        this.cure = cure;
        this.words = words;
    }

    private JournalFault(Cure cure, String words, Throwable cause) {
        super(words, cause);
        this.cure = cure;
        this.words = words;
    }

    Cure cure() {
        return cure;
    }

    String words() {
        return words;
    }

    /** What the journal can do about it by itself. */
    enum Cure {
        /** Waiting for a person, or for the disk, and trying again. */
        TRY_AGAIN,
        /**
         * The file is of no use to this program: it is kept under another name, a new one begun.
         */
        SET_ASIDE
    }

    /** What an SQLite error on {@code file} means. Result codes: sqlite.org, "Result Codes". */
    static JournalFault of(Path file, SQLException cause) {
        SQLiteErrorCode code =
                cause instanceof SQLiteException sqlite
                        ? sqlite.getResultCode()
                        : SQLiteErrorCode.UNKNOWN_ERROR;
        String name = code.name();
        if (name.startsWith("SQLITE_CORRUPT") || name.equals("SQLITE_NOTADB")) {
            return new JournalFault(
                    Cure.SET_ASIDE, "the journal " + file + " is damaged (" + name + ")", cause);
        }
        return new JournalFault(Cure.TRY_AGAIN, words(file, name, cause), cause);
    }

    private static String words(Path file, String code, SQLException cause) {
        if (code.equals("SQLITE_FULL")) {
            return "the journal "
                    + file
                    + " can't grow: its disk is full or its own size limit is reached."
                    + " Free some space, or allow it more";
        }
        if (code.startsWith("SQLITE_READONLY")
                || code.startsWith("SQLITE_CANTOPEN")
                || code.startsWith("SQLITE_PERM")
                || code.startsWith("SQLITE_AUTH")) {
            return "the journal "
                    + file
                    + " can't be written ("
                    + code
                    + "). Let the agent's user write to its folder and to the file";
        }
        if (code.startsWith("SQLITE_BUSY") || code.startsWith("SQLITE_LOCKED")) {
            return "another program holds the journal " + file + " locked. Close that program";
        }
        if (code.startsWith("SQLITE_IOERR")) {
            return "the disk under the journal "
                    + file
                    + " fails or is full ("
                    + code
                    + "). Look at its free space, then replace the card";
        }
        return "the journal " + file + " can't be used: " + cause.getMessage();
    }
}
