package io.evenwarm.monitor.app;

import java.io.IOException;
import java.io.PrintStream;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;

/** Whether a file that a person named can be what the command needs; the words when it can't. */
final class NewFiles {

    private NewFiles() {}

    static boolean isNew(Path file, PrintStream err) {
        if (Files.exists(file)) {
            err.println(
                    "FILE must be a file that is not there yet, but "
                            + file
                            + " is: name another one, or move it away");
            return false;
        }
        return true;
    }

    /** Writes a text into a file that must not be there yet. */
    static void write(Path file, String text) throws IOException {
        try (Writer out =
                Files.newBufferedWriter(
                        file, StandardCharsets.UTF_8, StandardOpenOption.CREATE_NEW)) {
            out.write(text);
        }
    }

    static boolean isReadable(Path file, PrintStream err) {
        if (!Files.isRegularFile(file) || !Files.isReadable(file)) {
            err.println("FILE must be a file that can be read, but " + file + " is none");
            return false;
        }
        return true;
    }
}
