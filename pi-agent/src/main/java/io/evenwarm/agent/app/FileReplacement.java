package io.evenwarm.agent.app;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;

/**
 * Puts a new text in a file's place, so that it is whole at every moment, and keeps the old one.
 */
final class FileReplacement {

    private FileReplacement() {}

    /**
     * Replaces a file; through a link, the file that it leads to.
     *
     * @return where the old text is now
     * @throws IOException when it can't; the file is as it was then
     */
    static Path replace(Path file, String text) throws IOException {
        Path real = file.toRealPath();
        Path backup = real.resolveSibling(real.getFileName() + ".backup");
        Path unfinished = real.resolveSibling(real.getFileName() + ".new");
        Files.copy(
                real,
                backup,
                StandardCopyOption.REPLACE_EXISTING,
                StandardCopyOption.COPY_ATTRIBUTES);
        // A copy first: the new file has the old one's rights.
        Files.copy(
                real,
                unfinished,
                StandardCopyOption.REPLACE_EXISTING,
                StandardCopyOption.COPY_ATTRIBUTES);
        try (FileChannel channel =
                FileChannel.open(
                        unfinished,
                        StandardOpenOption.WRITE,
                        StandardOpenOption.TRUNCATE_EXISTING)) {
            ByteBuffer bytes = ByteBuffer.wrap(text.getBytes(StandardCharsets.UTF_8));
            while (bytes.hasRemaining()) {
                channel.write(bytes);
            }
            channel.force(true);
        }
        Files.move(unfinished, real, StandardCopyOption.ATOMIC_MOVE);
        return backup;
    }
}
