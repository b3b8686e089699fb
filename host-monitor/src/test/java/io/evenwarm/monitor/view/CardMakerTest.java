package io.evenwarm.monitor.view;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.FindingCode;
import io.evenwarm.message.GuardState;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.Reading;
import io.evenwarm.monitor.live.LiveCabinet;
import io.evenwarm.monitor.live.Liveness;
import io.evenwarm.monitor.view.CabinetCard.ProbeValue;
import io.evenwarm.quantity.Temperature;
import io.evenwarm.quantity.TemperatureUnit;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

final class CardMakerTest {

    private static final Instant WALL = Instant.parse("2026-05-04T10:00:00Z");

    private final CardMaker celsius =
            new CardMaker(TemperatureUnit.CELSIUS, WALL, ZoneOffset.UTC, WindowEggs.NONE);

    @Test
    void aHealthyCabinetIsToldInNumbersAndWords() {
        CabinetCard card =
                celsius.card(
                        Samples.live(Samples.calm(100), Liveness.LIVE, Duration.ofMillis(400)));
        assertEquals(CardState.WELL, card.state());
        assertEquals("31.5", card.number());
        assertEquals("°C", card.unit());
        assertEquals("Set 31.5 °C", card.setPoint());
        assertEquals("heat 36 %, heater on", card.duty());
        assertEquals("Heat allowed", card.guard());
        assertEquals("Read 1 s ago", card.age());
        assertEquals("", card.lastKnown());
    }

    @Test
    void plannedWorkIsShownWithItsEndByTheMonitorsOwnClock() {
        CabinetCard card =
                celsius.card(
                        Samples.live(
                                Samples.calm(100)
                                        .withWork(
                                                Optional.of(1_000_000_000_000L), Optional.empty()),
                                Liveness.LIVE,
                                Duration.ofSeconds(2)));
        assertEquals("Planned work until 10:14", card.work());
        assertTrue(card.spoken().contains("Planned work until 10:14. "), card.spoken());
    }

    @Test
    void fahrenheitIsToldThroughout() {
        CabinetCard card =
                new CardMaker(TemperatureUnit.FAHRENHEIT, WALL, ZoneOffset.UTC, WindowEggs.NONE)
                        .card(
                                Samples.live(
                                        Samples.snapshot(
                                                100,
                                                List.of(Samples.good("top", 31.6, 0)),
                                                Optional.of(31.5),
                                                GuardState.ALLOWING,
                                                List.of(Samples.finding(FindingCode.TOO_WARM, 0))),
                                        Liveness.LIVE,
                                        Duration.ZERO));
        assertEquals("88.7", card.number());
        assertEquals("°F", card.unit());
        assertEquals("88.9", card.probes().get(0).value());
        assertEquals("Air at 91.6 °F, above 90.5 °F.", card.findings().get(0).evidence());
    }

    @Test
    void anOldNumberNeverLooksAlive() {
        for (Liveness gone : List.of(Liveness.STALE, Liveness.LOST)) {
            CabinetCard card =
                    celsius.card(Samples.live(Samples.calm(100), gone, Duration.ofMinutes(4)));
            assertFalse(card.state().isAlive());
            assertFalse(card.number().matches(".*\\d.*"), card.number());
            assertEquals("", card.unit());
            assertEquals("last known 31.5 °C, 4 min ago", card.lastKnown());
            assertEquals("Was set to 31.5 °C", card.setPoint());
            assertTrue(card.probes().stream().noneMatch(ProbeValue::good));
            assertEquals("Heater not known", card.duty());
            assertTrue(card.spoken().contains("last known"), card.spoken());
            assertFalse(card.guard().contains("allowed"), card.guard());
        }
    }

    @Test
    void aTrippedCabinetThatIsLostIsLostFirst() {
        CabinetCard card =
                celsius.card(
                        Samples.live(
                                Samples.snapshot(
                                        100,
                                        List.of(),
                                        Optional.of(33.7),
                                        GuardState.TRIPPED,
                                        List.of()),
                                Liveness.LOST,
                                Duration.ofHours(2)));
        assertEquals(CardState.LOST, card.state());
    }

    @Test
    void theGravestFindingComesFirstWithItsDuration() {
        CabinetCard card =
                celsius.card(
                        Samples.live(
                                Samples.snapshot(
                                        1000,
                                        List.of(),
                                        Optional.of(33.7),
                                        GuardState.TRIPPED,
                                        List.of(
                                                Samples.finding(new FindingCode("door-ajar"), 0),
                                                Samples.finding(
                                                        FindingCode.TOO_WARM, 400_000_000_000L),
                                                Samples.finding(
                                                        FindingCode.CUT_OFF_TRIPPED,
                                                        700_000_000_000L))),
                                Liveness.LIVE,
                                Duration.ZERO));
        assertEquals(CardState.TRIPPED, card.state());
        assertEquals(
                List.of(
                        "Cut-off tripped, for 5 min",
                        "Too warm, for 10 min",
                        "Door ajar, for 16 min"),
                card.findings().stream().map(CabinetCard.FindingLine::headline).toList());
    }

    @Test
    void aProbeThatCantBeReadSaysWhyAndADoubtfulOneIsMarked() {
        CabinetCard card =
                celsius.card(
                        Samples.live(
                                Samples.snapshot(
                                        100,
                                        List.of(
                                                new ProbeReading(
                                                        new ProbeName("tub A"),
                                                        ProbePlace.TUB,
                                                        new Reading.Bad(Reading.Doubt.CHECKSUM, 0)),
                                                new ProbeReading(
                                                        new ProbeName("t"),
                                                        ProbePlace.TOP,
                                                        new Reading.Uncertain(
                                                                Temperature.ofCelsius(40),
                                                                Reading.Doubt.TOO_FAST,
                                                                0))),
                                        Optional.empty(),
                                        GuardState.HOLDING,
                                        List.of()),
                                Liveness.LIVE,
                                Duration.ZERO));
        assertEquals(CardState.ATTENTION, card.state());
        assertEquals("No reading", card.number());
        assertEquals("tub A", card.probes().get(0).label());
        assertEquals("wrong checksum", card.probes().get(0).value());
        assertEquals("top", card.probes().get(1).label());
        assertEquals("40.0 ?", card.probes().get(1).value());
        assertFalse(card.probes().get(1).good());
    }

    @Test
    void inAFastSimulationTheAgeIsInTheMonitorsSeconds() {
        LiveCabinet fast =
                new LiveCabinet(
                        Samples.NORTH,
                        Samples.snapshot(
                                1000,
                                List.of(Samples.good("top", 31.5, 940_000_000_000L)),
                                Optional.of(31.5),
                                GuardState.ALLOWING,
                                List.of()),
                        Liveness.LIVE,
                        Duration.ofSeconds(1),
                        60);
        assertEquals("Read 2 s ago", celsius.card(fast).age());
    }

    @Test
    void theEggsAreToldInTheUnitChosenAndNotAtAllWhereNothingIsKnown() {
        InventedEggs eggs = new InventedEggs(() -> WALL);
        CardMaker maker = new CardMaker(TemperatureUnit.FAHRENHEIT, WALL, ZoneOffset.UTC, eggs);
        LiveCabinet live = Samples.live(Samples.calm(100), Liveness.LIVE, Duration.ZERO);
        assertEquals(
                "If heating stopped now: about 5 h until the eggs are at 75.2 °F. Eggs about"
                        + " 88.6 °F, 87.9 to 89.3, estimated.",
                maker.card(live).eggs());
        assertEquals("", celsius.card(live).eggs());
    }

    @Test
    void farFromTheSetPointIsNotCalledHolding() {
        CabinetCard card =
                celsius.card(
                        Samples.live(
                                Samples.snapshot(
                                        100,
                                        List.of(),
                                        Optional.of(25.0),
                                        GuardState.ALLOWING,
                                        List.of()),
                                Liveness.LIVE,
                                Duration.ZERO));
        assertEquals(CardState.SETTLING, card.state());
    }
}
