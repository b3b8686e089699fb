package io.evenwarm.agent.rehearsal;

import java.util.Locale;
import java.util.OptionalDouble;

/** Spans of time for tables. */
final class Times {

    private Times() {}

    /** For example {@code 12 s}, {@code 4.5 min}, {@code 3.2 h}, {@code 5.1 d}. */
    static String words(double seconds) {
        double size = Math.abs(seconds);
        if (Double.isInfinite(seconds)) {
            return "never";
        }
        if (size < 120) {
            return String.format(Locale.ROOT, "%.0f s", seconds);
        }
        if (size < 2 * 3600) {
            return String.format(Locale.ROOT, "%.1f min", seconds / 60);
        }
        return size < 2 * 86_400
                ? String.format(Locale.ROOT, "%.1f h", seconds / 3600)
                : String.format(Locale.ROOT, "%.1f d", seconds / 86_400);
    }

    static String words(OptionalDouble seconds) {
        return words(seconds.orElse(Double.POSITIVE_INFINITY));
    }

    /** With its sign. */
    static String signed(double seconds) {
        return (seconds < 0 ? "" : "+") + words(seconds);
    }
}
