package io.evenwarm.monitor.exchange;

/** Why a line is no reading; the message says what was found and what is allowed. */
final class LineException extends Exception {

    private static final long serialVersionUID = 1L;

    LineException(String message) {
        super(message);
    }

    static LineException of(String column, String found, String allowed) {
        return new LineException(
                column + ": expected " + allowed + " but found \"" + shortened(found) + "\"");
    }

    private static String shortened(String text) {
        return text.length() <= 60 ? text : text.substring(0, 57) + "...";
    }
}
