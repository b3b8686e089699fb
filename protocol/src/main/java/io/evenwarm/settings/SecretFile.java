package io.evenwarm.settings;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.charset.MalformedInputException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.FileAttribute;
import java.nio.file.attribute.PosixFilePermission;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.EnumSet;
import java.util.Set;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * A password or another secret, in a file of its own that only its owner may read: settings can
 * then be shown, copied and sent to others.
 */
public final class SecretFile {

    /** What a settings file's key for such a file allows. */
    public static final String FORM =
            "a file with one line that only its owner may read (chmod 600)";

    private static final int MAX_OCTETS = 4096;
    private static final Set<PosixFilePermission> OWNER_ONLY =
            PosixFilePermissions.fromString("rw-------");
    private static final Set<PosixFilePermission> FOR_OTHERS =
            EnumSet.of(
                    PosixFilePermission.GROUP_READ,
                    PosixFilePermission.GROUP_WRITE,
                    PosixFilePermission.OTHERS_READ,
                    PosixFilePermission.OTHERS_WRITE);

    private SecretFile() {}

    /**
     * The file's one line, without spaces around it.
     *
     * @throws IOException says what is wrong with the file, and never what is in it
     */
    public static String read(Path file) throws IOException {
        try {
            if (!Files.isRegularFile(file)) {
                throw new IOException(Files.exists(file) ? "it is no file" : "it is not there");
            }
            if (Files.getFileStore(file).supportsFileAttributeView("posix")
                    && Files.getPosixFilePermissions(file).stream()
                            .anyMatch(FOR_OTHERS::contains)) {
                throw new IOException("others than its owner may read or change it");
            }
            if (Files.size(file) > MAX_OCTETS) {
                throw new IOException("it has more than " + MAX_OCTETS + " octets");
            }
            String text = Files.readString(file, StandardCharsets.UTF_8).strip();
            if (text.isEmpty() || text.lines().count() != 1) {
                throw new IOException("it has not one line but " + text.lines().count());
            }
            return text;
        } catch (NoSuchFileException e) {
            throw new IOException("it is not there", e);
        } catch (MalformedInputException e) {
            throw new IOException("it is no text in UTF-8", e);
        }
    }

    /**
     * Writes a secret, in place of what stands there: whole and on the disk when this returns, and
     * readable for nobody but its owner at any moment. Where the file system knows no owner's
     * rights, the user's own folder protects it.
     */
    public static void write(Path file, String text) throws IOException {
        Path target = file.toAbsolutePath();
        Path fresh = target.resolveSibling(target.getFileName() + "." + UUID.randomUUID());
        try {
            try (FileChannel channel =
                    FileChannel.open(
                            fresh,
                            Set.of(StandardOpenOption.CREATE_NEW, StandardOpenOption.WRITE),
                            ownerOnly(target.getParent()))) {
                ByteBuffer octets = ByteBuffer.wrap(text.getBytes(StandardCharsets.UTF_8));
                while (octets.hasRemaining()) {
                    channel.write(octets);
                }
                channel.force(true);
            }
            Files.move(
                    fresh,
                    target,
                    StandardCopyOption.ATOMIC_MOVE,
                    StandardCopyOption.REPLACE_EXISTING);
        } finally {
            Files.deleteIfExists(fresh);
        }
    }

    private static FileAttribute<?>[] ownerOnly(@Nullable Path folder) throws IOException {
        return folder != null && Files.getFileStore(folder).supportsFileAttributeView("posix")
                ? new FileAttribute<?>[] {PosixFilePermissions.asFileAttribute(OWNER_ONLY)}
                : new FileAttribute<?>[0];
    }
}
