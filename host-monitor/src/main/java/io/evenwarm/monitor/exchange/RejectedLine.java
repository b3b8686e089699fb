package io.evenwarm.monitor.exchange;

/**
 * A line that is no reading.
 *
 * @param line its number in the file, the header's is 1
 * @param words what was found and what is allowed
 */
public record RejectedLine(long line, String words) {

    /** As it is shown: {@code line 7: …}. */
    public String text() {
        return "line " + line + ": " + words;
    }
}
