package io.evenwarm.agent.driver.sysfs;

import io.evenwarm.agent.port.Sample;
import io.evenwarm.message.Reading.Doubt;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.AccessDeniedException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.NotDirectoryException;
import java.nio.file.Path;
import java.util.Locale;

/** Reads the small text files in which Linux tells what a device measured. */
final class SysfsFile {

    /** A sysfs file holds at most one page. */
    private static final int MAX_BYTES = 4096;

    private static final int MAX_SHOWN = 60;

    private SysfsFile() {}

    /** The file's text without white space around it; at most one page of it. */
    static String read(Path file) throws IOException {
        try (InputStream in = Files.newInputStream(file)) {
            return new String(in.readNBytes(MAX_BYTES), StandardCharsets.ISO_8859_1).strip();
        }
    }

    /** The failed sample that an exception from {@link #read} means. */
    static Sample.Failed failed(Path file, IOException cause, long atNanos) {
        if (cause instanceof NoSuchFileException || cause instanceof NotDirectoryException) {
            return new Sample.Failed(Doubt.NOT_THERE, file + " is not there", atNanos);
        }
        if (cause instanceof AccessDeniedException) {
            return new Sample.Failed(Doubt.DRIVER, file + " may not be read by this user", atNanos);
        }
        String reason = String.valueOf(cause.getMessage());
        boolean gone = reason.toLowerCase(Locale.ROOT).contains("no such device");
        return new Sample.Failed(
                gone ? Doubt.NOT_THERE : Doubt.DRIVER,
                "reading " + file + " failed: " + reason,
                atNanos);
    }

    /** The failed sample for text that is no measurement. */
    static Sample.Failed garbled(Path file, String text, String expected, long atNanos) {
        return new Sample.Failed(
                Doubt.GARBLED,
                file + " holds \"" + shown(text) + "\" where " + expected + " was expected",
                atNanos);
    }

    static String shown(String text) {
        String line = text.replaceAll("[^\\x20-\\x7e]", "·");
        return line.length() <= MAX_SHOWN ? line : line.substring(0, MAX_SHOWN) + "…";
    }
}
