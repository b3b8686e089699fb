package io.evenwarm.agent.durable;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.util.Optional;

/** The few things that are done with small files in one folder. Exchanged by tests that fail. */
interface SmallFiles {

    /** The largest file that is read; most of ours have some hundred bytes. */
    int MAX_BYTES = 65_536;

    /**
     * The whole file; empty when there is none. Only an answer "no such file" counts as none.
     *
     * @throws IOException when it can't be read, or is larger than {@value #MAX_BYTES} bytes
     */
    Optional<byte[]> read(Path file) throws IOException;

    /** Writes a new file or overwrites it, and waits until its content is on the disk. */
    void writeAndSync(Path file, byte[] content) throws IOException;

    /** Puts {@code from} in the place of {@code to}, whole or not at all. */
    void rename(Path from, Path to) throws IOException;

    /** Waits until the folder's own entries are on the disk. */
    void syncFolder(Path folder) throws IOException;

    /** The real ones. */
    static SmallFiles real() {
        return new RealSmallFiles();
    }

    /** On the machine's own file system. */
    final class RealSmallFiles implements SmallFiles {

        @Override
        public Optional<byte[]> read(Path file) throws IOException {
            try {
                long size = Files.size(file);
                if (size > MAX_BYTES) {
                    throw new IOException(
                            file + " has " + size + " bytes, at most " + MAX_BYTES + " allowed");
                }
                return Optional.of(Files.readAllBytes(file));
            } catch (NoSuchFileException e) {
                return Optional.empty();
            }
        }

        @Override
        public void writeAndSync(Path file, byte[] content) throws IOException {
            try (FileChannel channel =
                    FileChannel.open(
                            file,
                            StandardOpenOption.CREATE,
                            StandardOpenOption.TRUNCATE_EXISTING,
                            StandardOpenOption.WRITE)) {
                ByteBuffer rest = ByteBuffer.wrap(content);
                while (rest.hasRemaining()) {
                    channel.write(rest);
                }
                channel.force(true);
            }
        }

        @Override
        public void rename(Path from, Path to) throws IOException {
            Files.move(from, to, StandardCopyOption.ATOMIC_MOVE);
        }

        @Override
        public void syncFolder(Path folder) throws IOException {
            try (FileChannel channel = FileChannel.open(folder, StandardOpenOption.READ)) {
                channel.force(true);
            }
        }
    }
}
