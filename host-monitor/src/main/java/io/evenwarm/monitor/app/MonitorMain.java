package io.evenwarm.monitor.app;

import java.io.IOException;
import java.io.OutputStreamWriter;
import java.io.PrintStream;
import java.io.PrintWriter;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.logging.Level;
import picocli.CommandLine;

/** Entry point of {@code evenwarm}. */
public final class MonitorMain {

    private MonitorMain() {}

    /** Runs one command and ends the process with its exit code. */
    public static void main(String[] arguments) {
        Logs.setUp(Level.WARNING);
        Folders folders = Folders.of(System.getenv(), System.getProperty("user.home"));
        // The window's threads and a demo's pipes are not waited for: everything is closed by now.
        System.exit(run(folders, new Output(System.out, System.err), arguments));
    }

    /** Runs one command; see {@link Evenwarm} for the exit codes. */
    static int run(Folders folders, Output output, String... arguments) {
        return new CommandLine(new Evenwarm(folders, output))
                .setOut(writer(output.out()))
                .setErr(writer(output.err()))
                .setExecutionExceptionHandler(
                        (failure, line, parsed) -> {
                            if (failure instanceof IOException
                                    || failure instanceof UncheckedIOException) {
                                output.err().println("evenwarm: " + failure.getMessage());
                                return Evenwarm.FAILED;
                            }
                            throw failure;
                        })
                .execute(arguments);
    }

    /** For the command line's own texts; plain ASCII. */
    private static PrintWriter writer(PrintStream stream) {
        return new PrintWriter(new OutputStreamWriter(stream, StandardCharsets.UTF_8), true);
    }
}
