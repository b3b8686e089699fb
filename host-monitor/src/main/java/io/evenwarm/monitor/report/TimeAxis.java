package io.evenwarm.monitor.report;

import io.evenwarm.monitor.report.Picture.Anchor;
import io.evenwarm.monitor.report.Picture.Style;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZonedDateTime;
import java.time.format.DateTimeFormatter;
import java.time.temporal.ChronoUnit;
import java.util.Locale;

/** A chart's axis of local time. */
final class TimeAxis {

    private static final DateTimeFormatter CLOCK =
            DateTimeFormatter.ofPattern("HH:mm", Locale.ROOT);
    private static final DateTimeFormatter DAY =
            DateTimeFormatter.ofPattern("uuuu-MM-dd", Locale.ROOT);

    /** A day's label is this wide, and another one begins after it. */
    private static final int DAY_WIDTH = 80;

    private final long from;
    private final long to;
    private final double left;
    private final double right;
    private final ZoneId zone;

    TimeAxis(Instant from, Instant to, double left, double right, ZoneId zone) {
        this.from = from.toEpochMilli();
        this.to = Math.max(this.from + 60_000, to.toEpochMilli());
        this.left = left;
        this.right = right;
        this.zone = zone;
    }

    long millis() {
        return to - from;
    }

    boolean holds(long epochMillis) {
        return epochMillis >= from && epochMillis <= to;
    }

    double x(Instant time) {
        return x(time.toEpochMilli());
    }

    double x(long epochMillis) {
        long inside = Math.max(from, Math.min(to, epochMillis));
        return left + (right - left) * (inside - from) / (double) (to - from);
    }

    String clock(Instant time) {
        return CLOCK.format(time.atZone(zone));
    }

    static String tenths(double value) {
        return String.format(Locale.ROOT, "%.1f", value + 0.0);
    }

    /** A short length, for example {@code 10 s} or {@code 3 min}. */
    String length(Duration length) {
        long seconds = Math.round(length.toMillis() / 1000.0);
        return seconds < 120
                ? seconds + " s"
                : seconds < 7200 ? Math.round(seconds / 60.0) + " min" : seconds / 3600 + " h";
    }

    /** Ticks with the time of day, and the day below the first one and each midnight. */
    void draw(Picture.Maker maker, double y) {
        Duration step = Scale.step(Duration.ofMillis(millis()));
        ZonedDateTime first = Instant.ofEpochMilli(from).atZone(zone).truncatedTo(ChronoUnit.DAYS);
        double free = left - 1;
        String day = "";
        for (ZonedDateTime tick = first;
                tick.toInstant().toEpochMilli() <= to;
                tick = tick.plus(step)) {
            if (tick.toInstant().toEpochMilli() < from) {
                continue;
            }
            double x = x(tick.toInstant());
            maker.line(x, y, x, y + 4, 1, false);
            if (x > left + 14 && x < right - 14) {
                maker.words(x, y + 17, CLOCK.format(tick), Style.PLACE, Anchor.MIDDLE);
            }
            if (!DAY.format(tick).equals(day) && x >= free && x < right - DAY_WIDTH) {
                day = DAY.format(tick);
                maker.words(Math.max(left, x - 14), y + 31, day, Style.PLACE, Anchor.START);
                free = x + DAY_WIDTH;
            }
        }
    }
}
