package io.evenwarm.monitor.view;

import io.evenwarm.message.FindingCode;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.ZonedDateTime;
import java.time.format.DateTimeFormatter;
import java.time.format.TextStyle;
import java.util.Locale;
import java.util.Map;
import java.util.TimeZone;

/** Numbers, times and codes in plain words. */
final class Words {

    private static final DateTimeFormatter TIME =
            DateTimeFormatter.ofPattern("HH:mm", Locale.ENGLISH);
    private static final DateTimeFormatter DAY_TIME =
            DateTimeFormatter.ofPattern("EEE d MMM HH:mm", Locale.ENGLISH);
    private static final DateTimeFormatter YEAR_DAY_TIME =
            DateTimeFormatter.ofPattern("d MMM yyyy HH:mm", Locale.ENGLISH);
    private static final DateTimeFormatter OFFSET =
            DateTimeFormatter.ofPattern("xxx", Locale.ENGLISH);

    private static final Map<FindingCode, String> FINDINGS =
            Map.ofEntries(
                    Map.entry(FindingCode.TOO_WARM, "Too warm"),
                    Map.entry(FindingCode.TOO_COLD, "Too cold"),
                    Map.entry(FindingCode.CUT_OFF_TRIPPED, "Cut-off tripped"),
                    Map.entry(FindingCode.PROBE_LOST, "Probe lost"),
                    Map.entry(FindingCode.BLIND, "No good air probe"),
                    Map.entry(FindingCode.PROBES_DISAGREE, "Probes disagree"),
                    Map.entry(FindingCode.FAN_STOPPED, "Fan may have stopped"),
                    Map.entry(FindingCode.LATE_TICK, "Agent runs late"),
                    Map.entry(FindingCode.JOURNAL_FAILING, "Journal can't be written"),
                    Map.entry(FindingCode.OUTPUT_FAILING, "Output can't be switched"),
                    Map.entry(FindingCode.CLOCK_UNTRUSTED, "Agent's clock not set"));

    private Words() {}

    /** A finding's headline; a code that this monitor does not know is shown as it stands. */
    static String finding(FindingCode code) {
        String known = FINDINGS.get(code);
        if (known != null) {
            return known;
        }
        return sentence(code.value().replace('-', ' '));
    }

    /** For example {@code 4 min}, {@code 2 h 5 min}, {@code 3 days 4 h}. */
    static String duration(Duration duration) {
        long seconds = Math.max(0, duration.toSeconds());
        if (seconds < 60) {
            return seconds + " s";
        }
        long minutes = seconds / 60;
        if (minutes < 60) {
            return minutes + " min";
        }
        long hours = minutes / 60;
        if (hours < 24) {
            return hours + " h" + (minutes % 60 == 0 ? "" : " " + minutes % 60 + " min");
        }
        long days = hours / 24;
        return days
                + (days == 1 ? " day" : " days")
                + (hours % 24 == 0 ? "" : " " + hours % 24 + " h");
    }

    /** For example {@code just now}, {@code 4 min ago}. */
    static String age(Duration age) {
        return age.toSeconds() < 1 ? "just now" : duration(age) + " ago";
    }

    /** The time of day; with the date where that is not today's. */
    static String moment(Instant moment, Instant now, ZoneId zone) {
        ZonedDateTime local = moment.atZone(zone);
        LocalDate today = now.atZone(zone).toLocalDate();
        if (local.toLocalDate().equals(today)) {
            return TIME.format(local);
        }
        return local.getYear() == today.getYear()
                ? DAY_TIME.format(local)
                : YEAR_DAY_TIME.format(local);
    }

    /** Two moments; both with their dates where they do not lie in one day. */
    static String span(Instant from, Instant to, Instant now, ZoneId zone) {
        boolean oneDay = from.atZone(zone).toLocalDate().equals(to.atZone(zone).toLocalDate());
        return oneDay
                ? moment(from, now, zone) + " to " + TIME.format(to.atZone(zone))
                : DAY_TIME.format(from.atZone(zone)) + " to " + DAY_TIME.format(to.atZone(zone));
    }

    /** The zone as people call it, with its offset at a moment. */
    static String zone(ZoneId zone, Instant at) {
        String offset = OFFSET.format(at.atZone(zone));
        String name = zone.getId();
        if (name.equals(offset) || name.equals("Z")) {
            return "UTC" + ("+00:00".equals(offset) ? "" : offset);
        }
        String shortName =
                zone.getRules().isDaylightSavings(at)
                        ? TimeZone.getTimeZone(zone)
                                .getDisplayName(true, TimeZone.SHORT, Locale.ENGLISH)
                        : zone.getDisplayName(TextStyle.SHORT, Locale.ENGLISH);
        if (shortName.equals("UTC")) {
            return "UTC";
        }
        return name.equals(shortName)
                ? name + " (UTC" + offset + ")"
                : name + " (" + shortName + ", UTC" + offset + ")";
    }

    /** With a capital at its begin. */
    static String sentence(String words) {
        return words.isEmpty()
                ? words
                : words.substring(0, 1).toUpperCase(Locale.ROOT) + words.substring(1);
    }
}
