package io.evenwarm.settings;

import java.io.IOException;
import java.nio.file.AccessDeniedException;
import java.nio.file.FileSystemException;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.Optional;
import java.util.function.UnaryOperator;

/**
 * A key whose value names a file: the faults say what is wrong with it, and never what is in it.
 */
public final class FileKey {

    private FileKey() {}

    /** Makes something of a file. */
    @FunctionalInterface
    public interface Reading<T> {

        /**
         * What it holds.
         *
         * @throws IOException says why it can't be used
         */
        T of(Path file) throws IOException;
    }

    /**
     * What the file of a key holds; empty when the section hasn't the key, or, with a fault added,
     * when the file can't be used.
     *
     * @param allowed what the file must be, for the fault
     * @param folder at which a path begins that is not absolute
     */
    public static <T> Optional<T> read(
            TomlSection section, String key, String allowed, Path folder, Reading<T> reading) {
        Optional<Path> file = section.parsed(key, allowed, folder::resolve);
        if (file.isEmpty()) {
            return Optional.empty();
        }
        try {
            return Optional.of(reading.of(file.get()));
        } catch (IOException e) {
            section.faultWithFound(key, section.foundAt(key) + " (" + words(e) + ")", allowed);
            return Optional.empty();
        }
    }

    /**
     * A secret that must be there, in a file of its own: see {@link SecretFile}.
     *
     * @param holds what stands in the file, for the fault
     * @param check refuses what is something else by an {@link IllegalArgumentException}, whose
     *     words are shown to nobody
     */
    public static Optional<String> secret(
            TomlSection section,
            String key,
            String holds,
            Path folder,
            UnaryOperator<String> check) {
        String allowed = SecretFile.FORM + ", " + holds;
        if (!section.has(key)) {
            section.fault(key, allowed);
            return Optional.empty();
        }
        Optional<String> text = read(section, key, allowed, folder, SecretFile::read);
        try {
            return text.map(check);
        } catch (IllegalArgumentException e) {
            section.faultWithFound(key, section.foundAt(key) + ", which holds else", allowed);
            return Optional.empty();
        }
    }

    private static String words(IOException failure) {
        if (failure instanceof AccessDeniedException) {
            return "this user may not";
        }
        if (failure instanceof NoSuchFileException) {
            return "it is not there";
        }
        if (failure instanceof FileSystemException system && system.getReason() != null) {
            return system.getReason();
        }
        return String.valueOf(failure.getMessage());
    }
}
