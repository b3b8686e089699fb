package io.evenwarm.agent.serve;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.stream.Stream;
import org.junit.jupiter.api.Assumptions;

/** Two pseudo-terminals joined by a socat process, as two serial ports by a cable. */
final class PtyPair implements AutoCloseable {

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
        boolean isThere =
                Stream.of(System.getenv().getOrDefault("PATH", "").split(":"))
                        .anyMatch(each -> Files.isExecutable(Path.of(each, "socat")));
        Assumptions.assumeTrue(
                isThere, "sessions over a serial line not tested: install the package socat");
    }

    /** Plugs the cable in; its ends are files in {@code folder}. */
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
        Pause.until("socat made two ports", () -> Files.exists(left) && Files.exists(right));
        return new PtyPair(socat, left, right);
    }

    Path left() {
        return left;
    }

    Path right() {
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
