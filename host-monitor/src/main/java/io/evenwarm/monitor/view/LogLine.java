package io.evenwarm.monitor.view;

import io.evenwarm.message.FindingCode;
import io.evenwarm.monitor.history.LogEntry;
import io.evenwarm.quantity.TemperatureUnit;
import io.evenwarm.quantity.TemperatureWords;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;

/**
 * One line of the log, in words.
 *
 * @param headline what
 * @param begin since when, in local time
 * @param lasted how long, or that it still holds; empty for what happened once
 * @param words what it was found from
 * @param open whether it still holds
 * @param trouble whether it is a finding, and not just something that was done
 */
record LogLine(
        String headline, String begin, String lasted, String words, boolean open, boolean trouble) {

    static LogLine of(LogEntry entry, Instant now, ZoneId zone, TemperatureUnit unit) {
        boolean open = entry.end().isEmpty();
        Duration length = Duration.between(entry.begin(), entry.end().orElse(now));
        boolean once = !open && length.isZero();
        return new LogLine(
                entry.code().map(Words::finding).orElse("Event"),
                Words.moment(entry.begin(), now, zone),
                once ? "" : open ? "still, " + Words.duration(length) : Words.duration(length),
                Words.sentence(TemperatureWords.inUnit(entry.words(), unit)),
                open,
                entry.code().filter(code -> !code.equals(FindingCode.CLOCK_UNTRUSTED)).isPresent());
    }
}
