package io.evenwarm.agent.app;

import java.util.Locale;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** A span of time as a person writes it, for example {@code 90 s}, {@code 5min} or {@code 1.5h}. */
final class DurationText {

    /** What may stand there, for a fault. */
    static final String ALLOWED = "a time such as \"90s\", \"15min\", \"6h\" or \"28d\"";

    private static final Pattern SHAPE = Pattern.compile("(\\d{1,9}(?:\\.\\d{1,9})?) ?(s|min|h|d)");

    private DurationText() {}

    /**
     * Its length in seconds, 0 or more.
     *
     * @throws IllegalArgumentException when it is not of that shape
     */
    static double seconds(String text) {
        Matcher matcher = SHAPE.matcher(text.strip().toLowerCase(Locale.ROOT));
        if (!matcher.matches()) {
            throw new IllegalArgumentException("found \"" + text + "\"; allowed: " + ALLOWED);
        }
        return Double.parseDouble(matcher.group(1)) * unitSeconds(matcher.group(2));
    }

    private static double unitSeconds(String unit) {
        return switch (unit) {
            case "min" -> 60;
            case "h" -> 3600;
            case "d" -> 86_400;
            default -> 1;
        };
    }
}
