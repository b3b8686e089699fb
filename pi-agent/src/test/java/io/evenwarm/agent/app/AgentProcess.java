package io.evenwarm.agent.app;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;

/** A command of the packaged agent in a process of its own; its log goes to a file. */
final class AgentProcess implements AutoCloseable {

    /** Made by the package phase, which comes before these tests. */
    static final Path SCRIPT = Path.of("target", "dist", "bin", "evenwarm-agent");

    private final Process process;
    private final Path log;
    private final BufferedReader out;

    private AgentProcess(Process process, Path log) {
        this.process = process;
        this.log = log;
        this.out = new BufferedReader(process.inputReader(StandardCharsets.UTF_8));
    }

    static AgentProcess start(Path log, String... arguments) throws IOException {
        assertTrue(
                Files.isExecutable(SCRIPT),
                SCRIPT.toAbsolutePath() + " is not there: run these tests with mvn verify");
        List<String> command = new ArrayList<>(List.of(SCRIPT.toAbsolutePath().toString()));
        command.addAll(List.of(arguments));
        Process process =
                new ProcessBuilder(command)
                        .redirectError(ProcessBuilder.Redirect.appendTo(log.toFile()))
                        .start();
        return new AgentProcess(process, log);
    }

    /** Waits for its next line on standard output. */
    String line() throws IOException {
        String line = out.readLine();
        if (line == null) {
            throw new IOException("it ended and said:\n" + log());
        }
        return line;
    }

    Process process() {
        return process;
    }

    /** SIGKILL: nothing of the process runs any more. */
    void kill() throws InterruptedException {
        process.destroyForcibly();
        process.waitFor();
    }

    /** SIGTERM, as a service manager does; returns the exit code. */
    int terminate() throws InterruptedException {
        process.destroy();
        return end();
    }

    /** Waits for its end; returns the exit code. */
    int end() throws InterruptedException {
        if (!process.waitFor(60, TimeUnit.SECONDS)) {
            throw new IllegalStateException("it does not end; it said:\n" + log());
        }
        return process.exitValue();
    }

    String log() {
        try {
            return Files.readString(log);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    @Override
    public void close() {
        process.destroyForcibly();
    }
}
