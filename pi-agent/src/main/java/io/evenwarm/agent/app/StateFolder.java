package io.evenwarm.agent.app;

import io.evenwarm.agent.durable.FileHeldDutyStore;
import io.evenwarm.agent.durable.FileLatchStore;
import io.evenwarm.agent.durable.FileLearnedStore;
import io.evenwarm.agent.durable.FileRelayCountStore;
import io.evenwarm.agent.durable.FileSetPointStore;
import io.evenwarm.agent.port.KeptStores;
import io.evenwarm.agent.port.Latch;
import io.evenwarm.agent.port.LatchStore;
import io.evenwarm.link.Identity;
import io.evenwarm.message.CabinetName;
import java.io.IOException;
import java.lang.System.Logger;
import java.lang.System.Logger.Level;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.channels.OverlappingFileLockException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.Optional;

/**
 * The agent's state folder, and the lock that keeps a second agent out of it.
 *
 * <p>A folder that can't be written does not keep the agent from running: a memory card that has
 * become read-only must not let eggs go cold. A folder that is not there and can't be made hides
 * every latch, and then all cabinets count as tripped.
 */
final class StateFolder implements AutoCloseable {

    private static final Logger LOG = System.getLogger(StateFolder.class.getName());

    private final Path path;
    private final Optional<String> unknown;
    private final Optional<FileLock> lock;

    private StateFolder(Path path, Optional<String> unknown, Optional<FileLock> lock) {
        this.path = path;
        this.unknown = unknown;
        this.lock = lock;
    }

    /**
     * Makes the folder if need be and takes its lock.
     *
     * @throws TakenException when another agent runs on it
     */
    static StateFolder open(Path path) throws TakenException {
        try {
            make(path);
        } catch (IOException e) {
            String words =
                    "state folder "
                            + path
                            + " is not there and can't be made: "
                            + Failures.words(e)
                            + ". Nobody knows which cut-offs had tripped, so that all count as"
                            + " tripped. Make the folder, let this user write to it, and start"
                            + " again.";
            LOG.log(Level.ERROR, "{0}", words);
            return new StateFolder(path, Optional.of(words), Optional.empty());
        }
        return new StateFolder(path, Optional.empty(), lock(path.resolve("agent.lock")));
    }

    /** Makes the folder, for its owner only, unless it is there. */
    static void make(Path path) throws IOException {
        if (Files.isDirectory(path)) {
            return;
        }
        Path parent = path.toAbsolutePath().getParent();
        if (parent != null) {
            Files.createDirectories(parent);
        }
        try {
            Files.createDirectory(
                    path,
                    PosixFilePermissions.asFileAttribute(
                            PosixFilePermissions.fromString("rwx------")));
        } catch (FileAlreadyExistsException e) {
            throw new IOException("a file of that name is in the way", e);
        }
    }

    // The channel stays open as long as the lock is held; closing it lets go of the lock.
    @SuppressWarnings("resource")
    private static Optional<FileLock> lock(Path file) throws TakenException {
        try {
            FileChannel channel =
                    FileChannel.open(file, StandardOpenOption.CREATE, StandardOpenOption.WRITE);
            Optional<FileLock> lock;
            try {
                lock = Optional.ofNullable(channel.tryLock());
            } catch (OverlappingFileLockException e) {
                lock = Optional.empty();
            }
            if (lock.isEmpty()) {
                channel.close();
                throw new TakenException(
                        "another agent runs on "
                                + file.getParent()
                                + ". End that one first, or give this one a state_folder of its"
                                + " own.");
            }
            return lock;
        } catch (TakenException e) {
            throw e;
        } catch (IOException e) {
            LOG.log(
                    Level.WARNING,
                    "{0} can''t be written ({1}): the agent runs, but what must outlive a restart is"
                            + " not saved, and nothing keeps a second agent out. Make the folder"
                            + " writable for this user.",
                    file.getParent(),
                    Failures.words(e));
            return Optional.empty();
        }
    }

    Path path() {
        return path;
    }

    /** Where latches are kept; tripped for all where the folder is not there. */
    LatchStore latches() {
        return unknown.<LatchStore>map(NoFolder::new).orElseGet(() -> new FileLatchStore(path));
    }

    /** Where all that must outlive a restart is kept. */
    KeptStores kept() {
        return new KeptStores(
                latches(),
                new FileSetPointStore(path),
                new FileRelayCountStore(path),
                new FileLearnedStore(path),
                new FileHeldDutyStore(path));
    }

    Path journal() {
        return path.resolve("journal.sqlite");
    }

    static Path socketIn(Path folder) {
        return folder.resolve("agent.socket");
    }

    static Path identityIn(Path folder) {
        return folder.resolve("identity.pem");
    }

    /**
     * The agent's own key, made at its first use. Its certificate names nobody: whoever connects
     * sees it before anything is known of them.
     */
    static Identity identity(Path folder) throws IOException {
        return Identity.loadOrCreate(identityIn(folder), "evenwarm");
    }

    /** Lets go of the lock. */
    @Override
    public void close() {
        lock.ifPresent(
                held -> {
                    try {
                        held.acquiredBy().close();
                    } catch (IOException e) {
                        LOG.log(Level.DEBUG, "letting go of the lock", e);
                    }
                });
    }

    /** Another agent runs on the folder. */
    static final class TakenException extends IOException {
        private static final long serialVersionUID = 1L;

        TakenException(String message) {
            super(message);
        }
    }

    private record NoFolder(String words) implements LatchStore {
        @Override
        public Latch load(CabinetName cabinet) {
            return new Latch.Tripped(words);
        }

        @Override
        public void save(CabinetName cabinet, Latch latch) throws IOException {
            throw new IOException(words);
        }
    }
}
