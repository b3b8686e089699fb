package io.evenwarm.monitor.chart;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.Limits;
import io.evenwarm.monitor.history.Curve;
import io.evenwarm.quantity.Temperature;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** Ranges, ticks, shares and inks. */
final class ChartArithmeticTest {

    private static final ZoneId BERLIN = ZoneId.of("Europe/Berlin");
    private static final Optional<Limits> LIMITS =
            Optional.of(
                    new Limits(
                            Temperature.ofCelsius(30.5),
                            Temperature.ofCelsius(32.5),
                            Temperature.ofCelsius(33.5),
                            Temperature.ofCelsius(34.5)));

    @Test
    void aCalmCabinetShowsItsSetPointWithAKelvinAndAHalfToEitherSide() {
        ValueRange range = ValueRange.ofCabinet(31.4, 31.6, 31.5, LIMITS);
        assertTrue(range.contains(30.0) && range.contains(33.0));
        assertTrue(range.contains(33.5), "the cut-off is near enough to be shown");
        assertTrue(range.high() - range.low() < 4.2, "but must not flatten the curves");
    }

    @Test
    void aLimitFarOffDoesNotFlattenTheCurves() {
        Optional<Limits> wide =
                Optional.of(
                        new Limits(
                                Temperature.ofCelsius(20),
                                Temperature.ofCelsius(38),
                                Temperature.ofCelsius(40),
                                Temperature.ofCelsius(42)));
        ValueRange range = ValueRange.ofCabinet(31.4, 31.6, 31.5, wide);
        assertFalse(range.contains(38));
        assertTrue(range.high() - range.low() < 3.5);
    }

    @Test
    void everythingThatWasReadIsInRange() {
        ValueRange range = ValueRange.ofCabinet(18, 45, 31.5, LIMITS);
        assertTrue(range.contains(18) && range.contains(45));
    }

    @Test
    void withNothingKnownTheRangeIsStillARange() {
        ValueRange range =
                ValueRange.ofCabinet(Double.NaN, Double.NaN, Double.NaN, Optional.empty());
        assertTrue(range.low() < range.high());
    }

    @Test
    void tickStepsAreOneTwoOrFive() {
        assertEquals(0.5, new ValueRange(29.9, 33.6).tickStep(10), 1e-12);
        assertEquals(0.2, new ValueRange(31, 32).tickStep(5), 1e-12);
        assertEquals(10, new ValueRange(0, 45).tickStep(5), 1e-12);
    }

    @Test
    void ticksFollowTheLocalClockOverTheChangeToSummerTime() {
        // 2026-03-29, 02:00 to 03:00 does not exist in Berlin (IANA time zone database).
        List<TimeTicks.Tick> ticks =
                TimeTicks.between(
                        millis("2026-03-28T23:00:00Z"), millis("2026-03-29T22:00:00Z"), BERLIN, 4);
        assertEquals(
                List.of("Sun 29 Mar", "06:00", "12:00", "18:00", "Mon 30 Mar"),
                ticks.stream().map(TimeTicks.Tick::label).toList());
        assertEquals(millis("2026-03-29T04:00:00Z"), ticks.get(1).epochMillis());
        assertTrue(ticks.get(0).isDate() && !ticks.get(1).isDate());
    }

    @Test
    void theHourThatComesTwiceInAutumnHasOneTick() {
        List<TimeTicks.Tick> ticks =
                TimeTicks.between(
                        millis("2026-10-24T22:30:00Z"), millis("2026-10-25T03:30:00Z"), BERLIN, 5);
        assertEquals(
                List.of("01:00", "02:00", "03:00", "04:00"),
                ticks.stream().map(TimeTicks.Tick::label).toList());
    }

    @Test
    void minutesAreRoundInZonesOffTheFullHour() {
        List<TimeTicks.Tick> ticks =
                TimeTicks.between(
                        millis("2026-05-01T10:02:00Z"),
                        millis("2026-05-01T11:02:00Z"),
                        ZoneOffset.ofHoursMinutes(5, 45),
                        4);
        assertEquals(
                List.of("16:00", "16:15", "16:30", "16:45"),
                ticks.stream().map(TimeTicks.Tick::label).toList());
    }

    @Test
    void theHeatersShareOverWholeWindowsIsItsDuty() {
        int size = 3600;
        long[] times = new long[size];
        double[] on = new double[size];
        for (int i = 0; i < size; i++) {
            times[i] = i * 1000L;
            on[i] = i % 120 < 44 ? 1 : 0;
        }
        ShareIntegral share = new ShareIntegral(Trace.of(Curve.of(times, on, size)), 0, 3_600_000);
        assertEquals(44.0 / 120, share.between(119_000, 119_000 + 1_200_000), 1e-9);
        assertEquals(1, share.between(1000, 30_000), 1e-9);
        assertTrue(Double.isNaN(share.between(-60_000, -1)));
    }

    @Test
    void timeWithoutReadingsCountsNeitherAsOnNorAsOff() {
        long[] times = {0, 5000, 10_000, 600_000, 605_000};
        double[] on = {1, 1, 1, 0, 1};
        ShareIntegral share = new ShareIntegral(Trace.of(Curve.of(times, on, 5)), 0, 605_000);
        assertEquals(1, share.between(0, 605_000), 1e-9);
        assertTrue(Double.isNaN(share.between(20_000, 590_000)));
    }

    /** The values of Okabe and Ito (2002, revised 2008), from memory of their figure. */
    @Test
    void theHuesAreThoseOfThePublishedPalette() {
        assertEquals("#d55e00", Ink.VERMILLION.css());
        assertEquals("#009e73", Ink.BLUISH_GREEN.css());
        assertEquals("#0072b2", Ink.BLUE.css());
        assertEquals("#cc79a7", Ink.REDDISH_PURPLE.css());
        assertEquals("#56b4e9", Ink.SKY_BLUE.css());
        assertEquals("#e69f00", Ink.ORANGE.css());
    }

    /** WCAG 2.1, success criteria 1.4.3 (text 4.5:1) and 1.4.11 (graphics 3:1); from memory. */
    @Test
    void textAndCurvesStandOutFromTheirGround() {
        for (Ink ground : List.of(Ink.CARD, Ink.PAPER)) {
            assertTrue(contrast(Ink.TEXT, ground) >= 4.5, ground.name());
            assertTrue(contrast(Ink.QUIET_TEXT, ground) >= 4.5, ground.name());
        }
        assertTrue(contrast(Ink.CARD, Ink.TEXT) >= 4.5);
        assertTrue(contrast(Ink.CARD, Ink.BLUE) >= 4.5);
        assertTrue(contrast(Ink.TEXT, Ink.ORANGE) >= 4.5);
        for (Mark mark : List.of(Mark.TOP, Mark.MIDDLE, Mark.BOTTOM, Mark.TUB, Mark.AMBIENT)) {
            assertTrue(contrast(mark.ink(), Ink.CARD) >= 3, mark.name());
        }
    }

    private static double contrast(Ink one, Ink other) {
        double lighter = Math.max(luminance(one), luminance(other));
        double darker = Math.min(luminance(one), luminance(other));
        return (lighter + 0.05) / (darker + 0.05);
    }

    /** WCAG 2.1, "relative luminance"; from memory. */
    private static double luminance(Ink ink) {
        return 0.2126 * linear(ink.rgb() >> 16)
                + 0.7152 * linear(ink.rgb() >> 8)
                + 0.0722 * linear(ink.rgb());
    }

    private static double linear(int channel) {
        double share = (channel & 0xFF) / 255.0;
        return share <= 0.03928 ? share / 12.92 : Math.pow((share + 0.055) / 1.055, 2.4);
    }

    private static long millis(String instant) {
        return Instant.parse(instant).toEpochMilli();
    }
}
