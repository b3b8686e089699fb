package io.evenwarm.agent.port;

import java.io.IOException;

/** A line could not be driven; the message names the line and what was found. */
public final class OutputException extends IOException {

    private static final long serialVersionUID = 1L;

    public OutputException(String message) {
        super(message);
    }

    public OutputException(String message, Throwable cause) {
        super(message, cause);
    }
}
