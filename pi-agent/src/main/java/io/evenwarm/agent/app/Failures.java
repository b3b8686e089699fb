package io.evenwarm.agent.app;

import java.io.PrintWriter;
import java.io.StringWriter;

/** Says what went wrong inside the program without a stack trace. */
final class Failures {

    private Failures() {}

    /** Kind, message and place of an unexpected failure, for a report. */
    static String inOneLine(Throwable thrown) {
        StringBuilder line = new StringBuilder(thrown.getClass().getSimpleName());
        if (thrown.getMessage() != null) {
            line.append(": ").append(thrown.getMessage().replaceAll("\\R", " / "));
        }
        for (StackTraceElement frame : thrown.getStackTrace()) {
            if (frame.getClassName().startsWith("io.evenwarm.")) {
                line.append(" (")
                        .append(frame.getFileName())
                        .append(':')
                        .append(frame.getLineNumber())
                        .append(')');
                break;
            }
        }
        return line.toString();
    }

    static String stackTrace(Throwable thrown) {
        StringWriter text = new StringWriter();
        thrown.printStackTrace(new PrintWriter(text, true));
        return "\n" + text;
    }
}
