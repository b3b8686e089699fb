package io.evenwarm.agent.driver.serial;

import static org.junit.jupiter.api.Assertions.assertEquals;

import io.evenwarm.testing.CProgram;
import io.evenwarm.testing.Tools;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;

/**
 * The C program of {@code hardware-notes/probe-board}, compiled with the system's compiler, at one
 * end of a pseudo-terminal that socat holds.
 */
final class PretendBoard implements AutoCloseable {

    private static final Path SOURCES = Path.of("../hardware-notes/probe-board");

    private final Process socat;
    private final Path line;

    private PretendBoard(Process socat, Path line) {
        this.socat = socat;
        this.line = line;
    }

    /** Skips the test, naming the package, where a program is not installed. */
    static void assumeThatItCanBeMade() {
        CProgram.need("the probe board's program");
        Tools.need("socat", "the probe board's program", "socat");
    }

    static Path compile(Path folder) throws IOException, InterruptedException {
        return CProgram.strictly(
                folder.resolve("pretend_board"),
                SOURCES.resolve("probe_board.c"),
                SOURCES.resolve("pretend_board.c"));
    }

    /** What the program writes, when it writes one report to its standard output. */
    static byte[] oneReport(Path program, String... values)
            throws IOException, InterruptedException {
        List<String> command = new ArrayList<>(List.of(program.toString(), "-", "0", "1"));
        command.addAll(List.of(values));
        Process board = new ProcessBuilder(command).start();
        byte[] written = board.getInputStream().readAllBytes();
        assertEquals(0, board.waitFor());
        return written;
    }

    /** Plugs a board in; it reports every 50 ms. */
    static PretendBoard plugIn(Path program, Path line, String... values)
            throws IOException, InterruptedException {
        Process socat =
                new ProcessBuilder(
                                "socat",
                                "pty,raw,echo=0,link=" + line,
                                "EXEC:"
                                        + program
                                        + " - 50 0 "
                                        + String.join(" ", values).replace(":", "\\:"))
                        .redirectErrorStream(true)
                        .redirectOutput(line.resolveSibling("socat.log").toFile())
                        .start();
        for (int i = 0; i < 1000 && Files.notExists(line); i++) {
            TimeUnit.MILLISECONDS.sleep(10);
        }
        return new PretendBoard(socat, line);
    }

    /** Pulls it out. */
    @Override
    public void close() throws IOException {
        try {
            socat.descendants().forEach(ProcessHandle::destroyForcibly);
            socat.destroyForcibly().waitFor();
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
        // Killed, socat leaves its link behind.
        Files.deleteIfExists(line);
    }
}
