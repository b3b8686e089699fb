package io.evenwarm.link;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.junit.jupiter.api.Assumptions;

/** Two pseudo-terminals joined by a socat process, as two serial ports by a cable. */
final class PtyPair implements AutoCloseable {

    private static final long WAIT_MILLIS_MAX = 10_000;

    private final Process socat;
    private final Path left;
    private final Path right;

    private PtyPair(Process socat, Path left, Path right) {
        this.socat = socat;
        this.left = left;
        this.right = right;
    }

    /** Skips the test, naming the package, where the program is not installed. */
    static void assumeThatSocatIsThere() {
        boolean there =
                Stream.of(System.getenv().getOrDefault("PATH", "").split(":"))
                        .anyMatch(folder -> Files.isExecutable(Path.of(folder, "socat")));
        Assumptions.assumeTrue(there, "serial links not tested: install the package socat");
    }

    /** Plugs a cable in; its ends are {@code folder/left} and {@code folder/right}. */
    static PtyPair open(Path folder) throws IOException {
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
        PtyPair pair = new PtyPair(socat, left, right);
        pair.waitForPorts();
        return pair;
    }

    String left() {
        return left.toString();
    }

    String right() {
        return right.toString();
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

    private void waitForPorts() {
        try {
            for (long waited = 0; !isThere() && waited < WAIT_MILLIS_MAX; waited += 10) {
                TimeUnit.MILLISECONDS.sleep(10);
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
        assertTrue(isThere(), "socat made no ports");
    }

    private boolean isThere() {
        return Files.exists(left) && Files.exists(right);
    }
}
