package io.evenwarm.monitor.notice;

import java.time.Instant;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * When a person is not to be told, by their own clock on the wall.
 *
 * @param from the first quiet minute
 * @param to the first that is not; before {@code from} when midnight lies between
 * @param zone of both
 * @param passedBy the least priority that is told all the same; empty: none is
 */
public record QuietHours(
        LocalTime from, LocalTime to, ZoneId zone, Optional<NoticePriority> passedBy) {

    private static final Pattern FORM =
            Pattern.compile("([01]\\d|2[0-3]):([0-5]\\d)-([01]\\d|2[0-3]):([0-5]\\d)");

    public QuietHours {
        if (from.equals(to)) {
            throw new IllegalArgumentException("quiet hours must end at another time than " + from);
        }
    }

    /**
     * Reads {@code 22:00-07:00}.
     *
     * @throws IllegalArgumentException when it is something else
     */
    public static QuietHours parse(String text, ZoneId zone, Optional<NoticePriority> passedBy) {
        Matcher matcher = FORM.matcher(text);
        if (!matcher.matches()) {
            throw new IllegalArgumentException(text);
        }
        return new QuietHours(
                LocalTime.of(
                        Integer.parseInt(matcher.group(1)), Integer.parseInt(matcher.group(2))),
                LocalTime.of(
                        Integer.parseInt(matcher.group(3)), Integer.parseInt(matcher.group(4))),
                zone,
                passedBy);
    }

    /** Whether something of that priority is kept back then. */
    boolean keepBack(NoticePriority priority, Instant at) {
        if (passedBy.isPresent() && priority.isAtLeast(passedBy.get())) {
            return false;
        }
        LocalTime local = at.atZone(zone).toLocalTime();
        boolean isAfterFrom = !local.isBefore(from);
        boolean isBeforeTo = local.isBefore(to);
        return from.isBefore(to) ? isAfterFrom && isBeforeTo : isAfterFrom || isBeforeTo;
    }
}
