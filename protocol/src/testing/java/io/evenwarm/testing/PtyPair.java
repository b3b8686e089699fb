package io.evenwarm.testing;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;

/**
 * Two pseudo-terminals joined by a socat process, as two serial ports by a cable. Each time it is
 * plugged in the terminals behind its links may be others, as an adapter's are.
 */
public final class PtyPair implements AutoCloseable {

    private final Process socat;
    private final Path left;
    private final Path right;

    private PtyPair(Process socat, Path left, Path right) {
        this.socat = socat;
        this.left = left;
        this.right = right;
    }

    /** Skips the test, naming the package, where the program is not installed. */
    public static void assumeThatSocatIsThere() {
        Tools.need("socat", "serial lines", "socat");
    }

    /** Plugs a cable in; its ends are {@code folder/left} and {@code folder/right}. */
    public static PtyPair open(Path folder) throws IOException {
        Path left = folder.resolve("left");
        Path right = folder.resolve("right");
        Process socat =
                new ProcessBuilder(
                                "socat",
                                "pty,raw,echo=0,link=" + left,
                                "pty,raw,echo=0,link=" + right)
                        .redirectErrorStream(true)
                        .redirectOutput(folder.resolve("socat.log").toFile())
                        .start();
        Waiting.until("socat made two ports", () -> Files.exists(left) && Files.exists(right));
        return new PtyPair(socat, left, right);
    }

    public Path left() {
        return left;
    }

    public Path right() {
        return right;
    }

    /** Pulls the cable. */
    @Override
    public void close() throws IOException {
        try {
            socat.destroyForcibly().waitFor();
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
        // Killed, socat leaves its links behind.
        Files.deleteIfExists(left);
        Files.deleteIfExists(right);
    }
}
