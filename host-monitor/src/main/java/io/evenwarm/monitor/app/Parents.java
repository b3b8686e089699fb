package io.evenwarm.monitor.app;

import org.jspecify.annotations.Nullable;

/** The program, or the command, that a command belongs to. */
final class Parents {

    private Parents() {}

    /** The command line fills the field in before it calls a command. */
    static <T> T of(@Nullable T parent) {
        if (parent == null) {
            throw new IllegalStateException("called without the command line");
        }
        return parent;
    }

    /** What the command line requires and fills in before it calls a command. */
    static <T> T given(@Nullable T parameter) {
        if (parameter == null) {
            throw new IllegalStateException("called without the command line");
        }
        return parameter;
    }
}
