package io.evenwarm.monitor.view;

/** The window can't be opened on this machine: there is no display, or a library is missing. */
public final class WindowUnavailableException extends Exception {

    private static final long serialVersionUID = 1L;

    WindowUnavailableException(String words, Throwable cause) {
        super(words, cause);
    }
}
