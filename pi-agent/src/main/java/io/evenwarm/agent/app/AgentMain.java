package io.evenwarm.agent.app;

import java.io.FileDescriptor;
import java.io.FileOutputStream;
import java.io.OutputStreamWriter;
import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.time.ZoneId;
import picocli.CommandLine;

/** Entry point of {@code evenwarm-agent}. */
public final class AgentMain {

    private AgentMain() {}

    public static void main(String[] arguments) {
        // UTF-8 whatever the locale: a service often has none, and JSON is UTF-8 (RFC 8259, 8.1).
        PrintWriter out = utf8(FileDescriptor.out);
        PrintWriter err = utf8(FileDescriptor.err);
        LogSetup.toStream(new FileOutputStream(FileDescriptor.err), ZoneId.systemDefault());
        System.exit(execute(out, err, arguments));
    }

    /** Carries out one command line and returns its exit code. */
    static int execute(PrintWriter out, PrintWriter err, String... arguments) {
        CommandLine commandLine =
                new CommandLine(new AgentCommand())
                        .setOut(out)
                        .setErr(err)
                        .setCaseInsensitiveEnumValuesAllowed(true)
                        .setExecutionExceptionHandler(
                                (failure, command, parsed) -> told(failure, err));
        try {
            return commandLine.execute(arguments);
        } catch (RuntimeException | Error failure) {
            return told(failure, err);
        } finally {
            out.flush();
            err.flush();
        }
    }

    private static int told(Throwable failure, PrintWriter err) {
        err.println(
                "evenwarm-agent: this is a fault in the program, please report it: "
                        + Failures.inOneLine(failure));
        System.getLogger(AgentMain.class.getName())
                .log(System.Logger.Level.DEBUG, "unexpected", failure);
        return ExitCode.NO;
    }

    private static PrintWriter utf8(FileDescriptor stream) {
        return new PrintWriter(
                new OutputStreamWriter(new FileOutputStream(stream), StandardCharsets.UTF_8), true);
    }
}
