package io.evenwarm.monitor.app;

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
}
