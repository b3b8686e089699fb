package io.evenwarm.monitor.app;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.FileVisitResult;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.SimpleFileVisitor;
import java.nio.file.attribute.BasicFileAttributes;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;

/** The demo's temporary folder. It is gone when the demo has ended. */
final class DemoFolder {

    private static final System.Logger LOG = System.getLogger(DemoFolder.class.getName());
    private static final String PREFIX = "evenwarm-demo-";
    private static final Pattern NAME = Pattern.compile(PREFIX + "(\\d{1,18})-\\d+");

    private final Path path;

    private DemoFolder(Path path) {
        this.path = path;
    }

    /**
     * Makes one, and removes those of demos that were killed before they could do so themselves.
     */
    static DemoFolder create(Path temporary) throws IOException {
        removeAbandoned(temporary);
        return new DemoFolder(
                Files.createTempDirectory(temporary, PREFIX + ProcessHandle.current().pid() + "-"));
    }

    Path path() {
        return path;
    }

    /** Removes it with all that is in it. */
    void delete() {
        try {
            deleteTree(path);
        } catch (IOException e) {
            LOG.log(System.Logger.Level.WARNING, "could not remove " + path + ": " + e);
        }
    }

    private static void removeAbandoned(Path temporary) throws IOException {
        List<Path> folders;
        try (Stream<Path> all = Files.list(temporary)) {
            folders = all.filter(DemoFolder::isAbandoned).toList();
        }
        for (Path folder : folders) {
            try {
                deleteTree(folder);
            } catch (IOException notOurs) {
                // Another user's, or another demo removes it just now.
                LOG.log(System.Logger.Level.DEBUG, "left " + folder + ": " + notOurs);
            }
        }
    }

    private static boolean isAbandoned(Path folder) {
        Matcher name = NAME.matcher(String.valueOf(folder.getFileName()));
        return name.matches()
                && !ProcessHandle.of(Long.parseLong(name.group(1)))
                        .map(ProcessHandle::isAlive)
                        .orElse(false);
    }

    private static void deleteTree(Path root) throws IOException {
        try {
            Files.walkFileTree(
                    root,
                    new SimpleFileVisitor<>() {
                        @Override
                        public FileVisitResult visitFile(Path file, BasicFileAttributes attributes)
                                throws IOException {
                            Files.deleteIfExists(file);
                            return FileVisitResult.CONTINUE;
                        }

                        @Override
                        public FileVisitResult postVisitDirectory(
                                Path folder, @Nullable IOException failure) throws IOException {
                            Files.deleteIfExists(folder);
                            return FileVisitResult.CONTINUE;
                        }
                    });
        } catch (UncheckedIOException e) {
            throw new IOException(e);
        }
    }
}
