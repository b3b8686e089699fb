package io.evenwarm.monitor.view;

import static org.junit.jupiter.api.Assertions.assertEquals;

import io.evenwarm.message.FindingCode;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZoneOffset;
import org.junit.jupiter.api.Test;

final class WordsTest {

    @Test
    void durationsReadAsAPersonWouldSayThem() {
        assertEquals("0 s", Words.duration(Duration.ofMillis(-5)));
        assertEquals("59 s", Words.duration(Duration.ofSeconds(59)));
        assertEquals("1 min", Words.duration(Duration.ofMinutes(1)));
        assertEquals("59 min", Words.duration(Duration.ofSeconds(3599)));
        assertEquals("2 h 5 min", Words.duration(Duration.ofMinutes(125)));
        assertEquals("1 day", Words.duration(Duration.ofHours(24)));
        assertEquals("3 days 4 h", Words.duration(Duration.ofHours(76)));
        assertEquals("just now", Words.age(Duration.ofMillis(900)));
        assertEquals("4 min ago", Words.age(Duration.ofMinutes(4)));
    }

    @Test
    void aTimeHasItsDateWhereThatIsNotTodays() {
        ZoneId berlin = ZoneId.of("Europe/Berlin");
        Instant now = Instant.parse("2026-05-04T12:00:00Z");
        assertEquals("00:30", Words.moment(Instant.parse("2026-05-03T22:30:00Z"), now, berlin));
        assertEquals(
                "Sun 3 May 23:59",
                Words.moment(Instant.parse("2026-05-03T21:59:00Z"), now, berlin));
        assertEquals(
                "31 Dec 2025 12:00",
                Words.moment(Instant.parse("2025-12-31T11:00:00Z"), now, berlin));
    }

    @Test
    void aSpanOverMidnightHasBothDates() {
        Instant now = Instant.parse("2026-05-04T12:00:00Z");
        assertEquals(
                "06:00 to 12:00",
                Words.span(now.minus(Duration.ofHours(6)), now, now, ZoneOffset.UTC));
        assertEquals(
                "Sun 3 May 12:00 to Mon 4 May 12:00",
                Words.span(now.minus(Duration.ofDays(1)), now, now, ZoneOffset.UTC));
    }

    @Test
    void theZoneIsNamedWithItsOffsetOfTheDay() {
        ZoneId berlin = ZoneId.of("Europe/Berlin");
        assertEquals(
                "Europe/Berlin (CET, UTC+01:00)",
                Words.zone(berlin, Instant.parse("2026-01-04T12:00:00Z")));
        assertEquals(
                "Europe/Berlin (CEST, UTC+02:00)",
                Words.zone(berlin, Instant.parse("2026-07-04T12:00:00Z")));
        assertEquals("UTC", Words.zone(ZoneOffset.UTC, Instant.EPOCH));
        assertEquals("UTC", Words.zone(ZoneId.of("Etc/UTC"), Instant.EPOCH));
        assertEquals("UTC+05:45", Words.zone(ZoneOffset.ofHoursMinutes(5, 45), Instant.EPOCH));
    }

    @Test
    void aCodeThatIsNewerThanThisMonitorIsStillShown() {
        assertEquals("Too warm", Words.finding(FindingCode.TOO_WARM));
        assertEquals("Door ajar", Words.finding(new FindingCode("door-ajar")));
    }
}
