package io.evenwarm.monitor.store;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.channels.OverlappingFileLockException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import org.jspecify.annotations.Nullable;

/**
 * Keeps a second monitor away from a data folder: both would take the same records from an agent
 * and acknowledge them.
 *
 * <p>The system drops the lock with the process, whatever ended it. The file stays: it is the lock
 * that counts, and to delete it would let two processes lock two files of one name.
 */
final class FolderLock implements AutoCloseable {

    static final String FILE_NAME = "history.lock";

    private final FileChannel channel;

    private FolderLock(FileChannel channel) {
        this.channel = channel;
    }

    static FolderLock take(Path folder) throws StoreException {
        Path file = folder.resolve(FILE_NAME);
        try {
            FileChannel channel =
                    FileChannel.open(
                            file,
                            StandardOpenOption.CREATE,
                            StandardOpenOption.READ,
                            StandardOpenOption.WRITE);
            if (tryLock(channel) == null) {
                channel.close();
                throw new StoreException(
                        "another monitor"
                                + holder(file)
                                + " is using "
                                + folder
                                + ": end it, or give this one a data_folder of its own");
            }
            try {
                channel.truncate(0);
                channel.write(
                        ByteBuffer.wrap(
                                Long.toString(ProcessHandle.current().pid())
                                        .getBytes(StandardCharsets.US_ASCII)));
            } catch (IOException e) {
                // Or the folder would stay locked for this process itself.
                channel.close();
                throw e;
            }
            return new FolderLock(channel);
        } catch (StoreException e) {
            throw e;
        } catch (IOException e) {
            throw new StoreException(
                    "can't write in "
                            + folder
                            + " ("
                            + e
                            + "): give this user the right to write there, or name another"
                            + " data_folder",
                    e);
        }
    }

    private static @Nullable FileLock tryLock(FileChannel channel) throws IOException {
        try {
            return channel.tryLock();
        } catch (OverlappingFileLockException held) {
            return null;
        }
    }

    private static String holder(Path file) {
        try {
            String pid = Files.readString(file, StandardCharsets.US_ASCII).strip();
            return pid.matches("[0-9]{1,10}") ? " (process " + pid + ")" : "";
        } catch (IOException unknown) {
            return "";
        }
    }

    @Override
    public void close() {
        try {
            channel.close();
        } catch (IOException e) {
            // The lock goes with the channel or with the process; there is nothing more to do.
            System.getLogger(FolderLock.class.getName())
                    .log(System.Logger.Level.DEBUG, "closing the lock file", e);
        }
    }
}
