package io.evenwarm.monitor.chart;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDateTime;
import java.time.ZoneId;
import java.time.ZonedDateTime;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** Round local times along a time axis. */
final class TimeTicks {

    private static final DateTimeFormatter TIME =
            DateTimeFormatter.ofPattern("HH:mm", Locale.ENGLISH);
    private static final DateTimeFormatter DAY =
            DateTimeFormatter.ofPattern("EEE d MMM", Locale.ENGLISH);

    private static final Duration[] STEPS = {
        Duration.ofMinutes(1),
        Duration.ofMinutes(2),
        Duration.ofMinutes(5),
        Duration.ofMinutes(10),
        Duration.ofMinutes(15),
        Duration.ofMinutes(30),
        Duration.ofHours(1),
        Duration.ofHours(2),
        Duration.ofHours(3),
        Duration.ofHours(6),
        Duration.ofHours(12),
        Duration.ofDays(1),
        Duration.ofDays(2),
        Duration.ofDays(7),
        Duration.ofDays(14),
        Duration.ofDays(28),
    };

    private TimeTicks() {}

    /**
     * One tick.
     *
     * @param label local time of day, or the date at local midnight
     * @param isDate whether the label is a date
     */
    record Tick(long epochMillis, String label, boolean isDate) {}

    /** At most about {@code count} ticks, at round times of the zone's clocks. */
    static List<Tick> between(long fromMillis, long toMillis, ZoneId zone, int count) {
        long rough = Math.max(1, (toMillis - fromMillis) / Math.max(1, count));
        Duration step = STEPS[STEPS.length - 1];
        for (Duration candidate : STEPS) {
            if (candidate.toMillis() >= rough) {
                step = candidate;
                break;
            }
        }
        return step.compareTo(Duration.ofHours(1)) < 0
                ? byMinutes(fromMillis, toMillis, zone, step.toMillis())
                : byHours(fromMillis, toMillis, zone, step);
    }

    /** Below an hour the zone's offset at the begin serves: a change moves ticks, not labels. */
    private static List<Tick> byMinutes(
            long fromMillis, long toMillis, ZoneId zone, long stepMillis) {
        long offsetMillis =
                1000L
                        * zone.getRules()
                                .getOffset(Instant.ofEpochMilli(fromMillis))
                                .getTotalSeconds();
        List<Tick> ticks = new ArrayList<>();
        long tick = Math.floorDiv(fromMillis + offsetMillis - 1, stepMillis) + 1;
        for (long at = tick * stepMillis - offsetMillis; at <= toMillis; at += stepMillis) {
            ticks.add(tick(at, zone));
        }
        return ticks;
    }

    /** From an hour on, ticks follow the local clock over a change between summer and winter. */
    private static List<Tick> byHours(long fromMillis, long toMillis, ZoneId zone, Duration step) {
        List<Tick> ticks = new ArrayList<>();
        LocalDateTime local =
                Instant.ofEpochMilli(fromMillis).atZone(zone).toLocalDate().atStartOfDay();
        if (step.toDays() >= 1) {
            // Whole days count from a fixed day, so that ticks do not wander as time goes on.
            local = local.minusDays(Math.floorMod(local.toLocalDate().toEpochDay(), step.toDays()));
        }
        long last = Long.MIN_VALUE;
        long at = local.atZone(zone).toInstant().toEpochMilli();
        while (at <= toMillis) {
            if (at >= fromMillis && at > last) {
                ticks.add(tick(at, zone));
                last = at;
            }
            local = local.plus(step);
            at = local.atZone(zone).toInstant().toEpochMilli();
        }
        return ticks;
    }

    private static Tick tick(long epochMillis, ZoneId zone) {
        ZonedDateTime local = Instant.ofEpochMilli(epochMillis).atZone(zone);
        boolean midnight = local.equals(local.toLocalDate().atStartOfDay(zone));
        return new Tick(epochMillis, (midnight ? DAY : TIME).format(local), midnight);
    }
}
