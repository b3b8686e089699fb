package io.evenwarm.monitor.notice;

import io.evenwarm.quantity.Temperature;
import io.evenwarm.quantity.TemperatureUnit;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/** Notices for tests, of invented cabinets. */
public final class Notices {

    /** Three in the morning in Berlin. */
    public static final Instant NIGHT = Instant.parse("2030-03-01T02:04:00Z");

    /** Who gets them. */
    public static final Recipient KEEPER =
            new Recipient("keeper", Optional.of("keeper@example.org"));

    private Notices() {}

    /** A cabinet that is too cold since 36 min, of which everything is known. */
    public static CabinetFacts cold(String cabinet) {
        return new CabinetFacts(
                cabinet,
                "too cold",
                NIGHT.minusSeconds(36 * 60),
                Optional.of(Temperature.ofCelsius(26.14)),
                Optional.of(Temperature.ofCelsius(26.0)),
                Optional.of(Temperature.ofCelsius(25.2)),
                OptionalDouble.of(-1.2),
                Optional.of(Duration.ofMinutes(200)),
                List.of("A1", "B2"),
                List.of("asked for full heat", "closed the cut-off relay"),
                "Look whether the heater's fuse is whole.",
                List.of("south, 4 free places"));
    }

    /** As {@link #cold}, of which nothing but the name is known. */
    public static CabinetFacts bare(String cabinet) {
        return new CabinetFacts(
                cabinet,
                "silent",
                NIGHT,
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                OptionalDouble.empty(),
                Optional.empty(),
                List.of(),
                List.of(),
                "",
                List.of());
    }

    /** Of high priority, in °C and Berlin's time. */
    public static Notice of(String eventId, int revision, NoticeKind kind, CabinetFacts... facts) {
        return new NoticeWriter(TemperatureUnit.CELSIUS, ZoneId.of("Europe/Berlin"))
                .write(eventId, revision, kind, NIGHT, NoticePriority.HIGH, List.of(facts));
    }

    /** The first of an event about one cold cabinet, "north". */
    public static Notice first(String eventId) {
        return of(eventId, 1, NoticeKind.FIRST, cold("north"));
    }
}
