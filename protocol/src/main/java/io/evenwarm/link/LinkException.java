package io.evenwarm.link;

import java.io.IOException;

/** The link is lost; the message says why, in words a person can act on. */
public final class LinkException extends IOException {

    private static final long serialVersionUID = 1L;

    public LinkException(String message) {
        super(message);
    }

    public LinkException(String message, Throwable cause) {
        super(message, cause);
    }
}
