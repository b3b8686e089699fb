package io.evenwarm.agent.journal;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;

/** Keeps a file that can't be used under another name, since a tool may yet get records from it. */
final class SetAside {

    private static final int MAX_KEPT = 1000;

    private SetAside() {}

    /**
     * Renames the file, its log with it: SQLite finds that log under the new name again.
     *
     * @return the file's new name
     */
    static Path move(Path file) throws IOException {
        for (int number = 1; number <= MAX_KEPT; number++) {
            Path kept = sibling(file, ".unreadable-" + number);
            if (Files.notExists(kept)) {
                moveWhenThere(file, kept);
                moveWhenThere(sibling(file, "-wal"), sibling(kept, "-wal"));
                moveWhenThere(sibling(file, "-shm"), sibling(kept, "-shm"));
                return kept;
            }
        }
        throw new IOException(
                "there are " + MAX_KEPT + " unreadable journals beside it already; move them away");
    }

    private static void moveWhenThere(Path from, Path to) throws IOException {
        if (Files.exists(from)) {
            Files.move(from, to, StandardCopyOption.ATOMIC_MOVE);
        }
    }

    private static Path sibling(Path file, String suffix) {
        return file.resolveSibling(file.getFileName() + suffix);
    }
}
