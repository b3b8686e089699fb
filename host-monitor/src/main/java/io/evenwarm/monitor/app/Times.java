package io.evenwarm.monitor.app;

import io.evenwarm.monitor.history.TimeSpan;
import java.time.DateTimeException;
import java.time.Instant;
import java.time.LocalDateTime;
import java.time.ZoneId;

/** Times as a person types them. */
final class Times {

    private static final String FORM =
            "a time such as 2026-03-01T12:00 (in the settings' zone) or 2026-03-01T12:00:00Z";

    private Times() {}

    /**
     * Reads a person's time.
     *
     * @param option to stand in the error
     * @throws IllegalArgumentException when it is none
     */
    static Instant parse(String option, String text, ZoneId zone) {
        try {
            return text.endsWith("Z")
                    ? Instant.parse(text)
                    : LocalDateTime.parse(text).atZone(zone).toInstant();
        } catch (DateTimeException e) {
            throw new IllegalArgumentException(
                    option + " must be " + FORM + " but was \"" + text + "\"", e);
        }
    }

    /**
     * A span between two of a person's times.
     *
     * @throws IllegalArgumentException when one is none, or the end is not after the begin
     */
    static TimeSpan span(
            String beginOption, String begin, String endOption, String end, ZoneId zone) {
        Instant first = parse(beginOption, begin, zone);
        Instant last = parse(endOption, end, zone);
        if (!first.isBefore(last)) {
            throw new IllegalArgumentException(
                    endOption
                            + " must be after "
                            + beginOption
                            + ", but "
                            + end
                            + " is not after "
                            + begin);
        }
        return new TimeSpan(first, last);
    }
}
