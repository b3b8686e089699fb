package io.evenwarm.agent.app;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.AccessDeniedException;
import java.nio.file.FileSystemException;
import java.nio.file.NoSuchFileException;

/** Says what went wrong inside the program without a stack trace. */
final class Failures {

    private Failures() {}

    /** What kept a file or folder from being used, for a person. */
    static String words(IOException failure) {
        if (failure instanceof AccessDeniedException) {
            return "this user may not";
        }
        if (failure instanceof NoSuchFileException) {
            return "its folder is not there";
        }
        if (failure instanceof FileSystemException system && system.getReason() != null) {
            return system.getReason();
        }
        return String.valueOf(failure.getMessage());
    }

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
