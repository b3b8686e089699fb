package io.evenwarm.monitor.exchange;

import java.io.IOException;

/** A file as a whole is not what it was said to be; the message is for a person. */
public final class FormException extends IOException {

    private static final long serialVersionUID = 1L;

    FormException(String message) {
        super(message);
    }

    FormException(String message, Throwable cause) {
        super(message, cause);
    }
}
