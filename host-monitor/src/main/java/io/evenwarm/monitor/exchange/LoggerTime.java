package io.evenwarm.monitor.exchange;

import java.time.DateTimeException;
import java.time.Instant;
import java.time.LocalDateTime;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * Reads a logger's times, one after another.
 *
 * <p>A local time that exists twice, when clocks are put back, is the earlier one, unless the lines
 * have already come that far: loggers write forward. One that never was, when clocks are put
 * forward, is refused.
 */
final class LoggerTime {

    static final String EPOCH_SECONDS = "epoch-seconds";
    static final String EPOCH_MILLIS = "epoch-millis";

    private final Optional<DateTimeFormatter> pattern;
    private final String form;
    private final ZoneId zone;
    private Instant newest = Instant.MIN;

    /**
     * @param form a pattern of {@link DateTimeFormatter}, {@link #EPOCH_SECONDS}, {@link
     *     #EPOCH_MILLIS}, or empty for ISO 8601
     * @throws FormException when the pattern is none
     */
    LoggerTime(String form, ZoneId zone) throws FormException {
        this.form = form;
        this.zone = zone;
        boolean isPattern =
                !form.isEmpty() && !form.equals(EPOCH_SECONDS) && !form.equals(EPOCH_MILLIS);
        try {
            pattern =
                    isPattern
                            ? Optional.of(DateTimeFormatter.ofPattern(form, Locale.ENGLISH))
                            : Optional.empty();
        } catch (IllegalArgumentException e) {
            throw new FormException(
                    "the time's form must be a pattern such as dd.MM.yyyy HH:mm:ss, or "
                            + EPOCH_SECONDS
                            + ", or "
                            + EPOCH_MILLIS
                            + ", but was \""
                            + form
                            + "\" ("
                            + e.getMessage()
                            + ")",
                    e);
        }
    }

    long epochMillis(String column, String text) throws LineException {
        Instant time = time(column, text.strip());
        newest = time.isAfter(newest) ? time : newest;
        return time.toEpochMilli();
    }

    private Instant time(String column, String text) throws LineException {
        try {
            if (form.equals(EPOCH_MILLIS)) {
                return Instant.ofEpochMilli(Long.parseLong(text));
            }
            if (form.equals(EPOCH_SECONDS)) {
                return Instant.ofEpochMilli(Math.round(Double.parseDouble(text) * 1000));
            }
            if (pattern.isPresent()) {
                return atZone(column, text, LocalDateTime.parse(text, pattern.get()));
            }
            String iso = text.replace(' ', 'T');
            return iso.matches(".*(Z|[+-]\\d\\d:?\\d\\d)")
                    ? OffsetDateTime.parse(iso).toInstant()
                    : atZone(column, text, LocalDateTime.parse(iso));
        } catch (DateTimeException | NumberFormatException e) {
            throw LineException.of(column, text, allowed());
        }
    }

    private String allowed() {
        return form.isEmpty() ? "a time such as 2026-03-01T12:00:00" : "a time as " + form;
    }

    private Instant atZone(String column, String text, LocalDateTime local) throws LineException {
        List<ZoneOffset> offsets = zone.getRules().getValidOffsets(local);
        if (offsets.isEmpty()) {
            throw LineException.of(
                    column,
                    text,
                    "a time that there was in " + zone + ", where clocks were put on");
        }
        Instant time = local.toInstant(offsets.get(0));
        boolean isPast = offsets.size() > 1 && !time.isAfter(newest);
        return isPast ? local.toInstant(offsets.get(1)) : time;
    }
}
