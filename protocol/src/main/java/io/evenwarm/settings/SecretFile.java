package io.evenwarm.settings;

import java.io.IOException;
import java.nio.charset.MalformedInputException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermission;
import java.util.EnumSet;
import java.util.Set;

/**
 * A password or another secret, in a file of its own that only its owner may read: settings can
 * then be shown, copied and sent to others.
 */
public final class SecretFile {

    /** What a settings file's key for such a file allows. */
    public static final String FORM =
            "a file with one line that only its owner may read (chmod 600)";

    private static final int MAX_OCTETS = 4096;
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
}
