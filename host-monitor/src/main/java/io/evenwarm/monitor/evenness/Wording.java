package io.evenwarm.monitor.evenness;

import io.evenwarm.quantity.TemperatureUnit;
import java.time.DateTimeException;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDateTime;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.Locale;
import java.util.Optional;

/**
 * How a person wants to read figures.
 *
 * @param unit of temperatures
 * @param zone of times
 */
public record Wording(TemperatureUnit unit, ZoneId zone) {

    private static final DateTimeFormatter TIME =
            DateTimeFormatter.ofPattern("uuuu-MM-dd HH:mm", Locale.ROOT);

    private static final DateTimeFormatter DAY =
            DateTimeFormatter.ofPattern("uuuu-MM-dd", Locale.ROOT);

    /** A local time to the minute. */
    public String time(Instant time) {
        return TIME.format(time.atZone(zone));
    }

    /** The local time that {@link #time} writes so; empty where the words are none. */
    public Optional<Instant> timeOf(String words) {
        try {
            return Optional.of(LocalDateTime.parse(words.strip(), TIME).atZone(zone).toInstant());
        } catch (DateTimeException e) {
            return Optional.empty();
        }
    }

    /** A day in UTC, as days of a long record are. */
    public String day(Instant time) {
        return DAY.format(time.atOffset(ZoneOffset.UTC));
    }

    static String length(Duration length) {
        long minutes = Math.round(length.toMillis() / 60_000.0);
        if (minutes == 0) {
            return Math.round(length.toMillis() / 1000.0) + " s";
        }
        return minutes < 60
                ? minutes + " min"
                : minutes % 60 == 0
                        ? minutes / 60 + " h"
                        : minutes / 60 + " h " + minutes % 60 + " min";
    }

    /** A difference with its unit, for example {@code 0.30 K} or {@code 0.54 °F}. */
    public String difference(Measure measure, double value) {
        return String.format(
                Locale.ROOT,
                "%.2f %s",
                measure == Measure.TEMPERATURE ? unit.fromKelvin(value) : value,
                unitOfDifference(measure));
    }

    /** A difference with its sign, which nothing has none of. */
    public String signed(Measure measure, double value) {
        String size = difference(measure, Math.abs(value));
        String sign = size.startsWith("0.00 ") ? "" : value < 0 ? "-" : "+";
        return sign + size;
    }

    /** A difference with its sign, and how far it may be off: {@code +0.30 K ± 0.12 K}. */
    public String signed(Measure measure, Estimate estimate) {
        return signed(measure, estimate.value()) + " ± " + difference(measure, estimate.expanded());
    }

    public String unitOfDifference(Measure measure) {
        return measure == Measure.HUMIDITY
                ? "%RH"
                : unit == TemperatureUnit.CELSIUS ? "K" : unit.symbol();
    }

    /** A value with its unit. */
    public String value(Measure measure, double value) {
        return String.format(
                Locale.ROOT,
                "%.2f %s",
                measure == Measure.TEMPERATURE ? unit.fromCelsius(value) : value,
                measure == Measure.TEMPERATURE ? unit.symbol() : "%RH");
    }

    /** A value, and how far it may be off: {@code 31.50 °C ± 0.12 K}. */
    public String value(Measure measure, Estimate estimate) {
        return value(measure, estimate.value()) + " ± " + difference(measure, estimate.expanded());
    }

    /** {@code 0.30 ± 0.12 K}. */
    public String plusMinus(Measure measure, Estimate estimate) {
        boolean isTemperature = measure == Measure.TEMPERATURE;
        return String.format(
                Locale.ROOT,
                "%.2f ± %.2f %s",
                isTemperature ? unit.fromKelvin(estimate.value()) : estimate.value(),
                isTemperature ? unit.fromKelvin(estimate.expanded()) : estimate.expanded(),
                unitOfDifference(measure));
    }
}
