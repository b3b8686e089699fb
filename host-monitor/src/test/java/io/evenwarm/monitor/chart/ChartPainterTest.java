package io.evenwarm.monitor.chart;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.Limits;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.monitor.NeedsTextLayout;
import io.evenwarm.monitor.history.Curve;
import io.evenwarm.monitor.history.ProbeCurve.Unit;
import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.quantity.Temperature;
import io.evenwarm.quantity.TemperatureUnit;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** What is really in the pixels. */
@NeedsTextLayout
final class ChartPainterTest {

    private static final Instant BEGIN = Instant.parse("2026-03-01T00:00:00Z");
    private static final int SECONDS = 86_400;
    private static final int SPIKE_AT = 50_000;
    private static final int GAP_AT = 30_000;

    private final ChartPainter painter = new ChartPainter();

    @Test
    void aSpikeOfOneSampleInADayIsSeen() {
        double[] values = flat();
        ChartPicture calm = painter.paint(spec(values, Optional.empty(), false));
        values[SPIKE_AT] = 32.9;
        ChartPicture spiked = painter.paint(spec(values, Optional.empty(), false));
        int column = columnOf(spiked, SPIKE_AT);
        int calmHighest = highest(calm, column, Mark.TOP);
        int spikeHighest = highest(spiked, column, Mark.TOP);
        assertTrue(
                calmHighest - spikeHighest > 80,
                "the spike reaches row " + spikeHighest + ", the calm line " + calmHighest);
    }

    @Test
    void aGapOfOneSampleInADayIsSeen() {
        double[] values = flat();
        values[GAP_AT] = Double.NaN;
        ChartPicture picture = painter.paint(spec(values, Optional.empty(), false));
        int column = columnOf(picture, GAP_AT);
        int empty = 0;
        for (int x = column - 2; x <= column + 8; x++) {
            if (count(picture, x, Mark.TOP) == 0) {
                empty++;
            }
        }
        assertTrue(empty >= 1, "no column without the curve beside " + column);
        assertTrue(count(picture, column - 6, Mark.TOP) > 0, "the line stops at the gap only");
        assertTrue(count(picture, column + 12, Mark.TOP) > 0, "the line goes on after the gap");
    }

    @Test
    void twoHoursWithoutReadingsAreEmpty() {
        double[] values = flat();
        for (int i = GAP_AT; i < GAP_AT + 7200; i++) {
            values[i] = Double.NaN;
        }
        ChartPicture picture = painter.paint(spec(values, Optional.empty(), false));
        for (int x = columnOf(picture, GAP_AT + 60); x < columnOf(picture, GAP_AT + 7100); x++) {
            assertEquals(0, count(picture, x, Mark.TOP), "column " + x);
        }
    }

    @Test
    void theTimeAfterACabinetFellSilentIsHatchedAndNotJustEmpty() {
        Instant silent = BEGIN.plusSeconds(60_000);
        double[] values = flat();
        for (int i = 60_000; i < SECONDS; i++) {
            values[i] = Double.NaN;
        }
        ChartPicture heard = painter.paint(spec(values, Optional.empty(), false));
        ChartPicture lost = painter.paint(spec(values, Optional.of(silent), false));
        int after = columnOf(lost, 75_000);
        int before = columnOf(lost, 40_000);
        assertTrue(differing(heard, lost, after) > 40, "hatched where nothing is known");
        assertEquals(0, differing(heard, lost, before), "untouched where it is");
    }

    @Test
    void anEstimateIsABrokenLineOverAHatchedBandAndEmptyWhereNothingIsKnown() {
        ChartSpec read = spec(flat(), Optional.empty(), false);
        int size = 288;
        long[] times = new long[size];
        double[] likely = new double[size];
        double[] low = new double[size];
        double[] high = new double[size];
        for (int i = 0; i < size; i++) {
            times[i] = BEGIN.plusSeconds(300L * i).toEpochMilli();
            likely[i] = i >= 100 && i < 200 ? Double.NaN : 31.0;
            low[i] = likely[i] - 0.3;
            high[i] = likely[i] + 0.3;
        }
        ChartSpec estimated =
                new ChartSpec(
                        read.frame(),
                        read.span(),
                        read.probes(),
                        List.of(
                                new EstimateTrace(
                                        "eggs, est.",
                                        Curve.of(times, likely, size),
                                        Curve.of(times, low, size),
                                        Curve.of(times, high, size))),
                        read.setPoint(),
                        read.heater(),
                        read.limits(),
                        false,
                        true,
                        Optional.empty(),
                        true);
        ChartPicture without = painter.paint(read);
        ChartPicture with = painter.paint(estimated);
        for (int column = columnOf(with, 12_000); column < columnOf(with, 27_000); column++) {
            int band = differing(without, with, column);
            assertTrue(band > 40, "column " + column + " of the band has " + band);
        }
        assertEquals(0, differing(without, with, columnOf(with, 45_000)), "nothing is known");
        assertTrue(differing(without, with, columnOf(with, 75_000)) > 40, "it goes on");
    }

    @Test
    void theCloseUpSpreadsTheCurvesOut() {
        double[] values = flat();
        for (int i = 0; i < SECONDS; i++) {
            values[i] += 0.2 * Math.sin(i / 2000.0);
        }
        ChartPicture all = painter.paint(spec(values, Optional.empty(), false));
        ChartPicture near = painter.paint(spec(values, Optional.empty(), true));
        assertTrue(spread(near) > 2.5 * spread(all), spread(near) + " against " + spread(all));
    }

    @Test
    void fahrenheitDrawsTheSameCurve() {
        double[] values = flat();
        values[SPIKE_AT] = 32.9;
        ChartSpec celsius = spec(values, Optional.empty(), false);
        ChartSpec fahrenheit =
                new ChartSpec(
                        new ChartSpec.Frame(
                                900,
                                600,
                                1,
                                "SansSerif",
                                TemperatureUnit.FAHRENHEIT,
                                ZoneOffset.UTC),
                        celsius.span(),
                        celsius.probes(),
                        celsius.setPoint(),
                        celsius.heater(),
                        celsius.limits(),
                        false,
                        true,
                        Optional.empty(),
                        true);
        int column = columnOf(painter.paint(celsius), SPIKE_AT);
        assertEquals(
                highest(painter.paint(celsius), column, Mark.TOP),
                highest(painter.paint(fahrenheit), column, Mark.TOP),
                1);
    }

    @Test
    void aLowPictureGivesUpTheRoomsStripAndSaysSo() {
        ChartSpec tall = spec(flat(), Optional.empty(), false);
        assertFalse(painter.paint(tall).roomHidden());
        ChartSpec low =
                new ChartSpec(
                        new ChartSpec.Frame(
                                900, 260, 1, "SansSerif", TemperatureUnit.CELSIUS, ZoneOffset.UTC),
                        tall.span(),
                        tall.probes(),
                        tall.setPoint(),
                        tall.heater(),
                        tall.limits(),
                        false,
                        true,
                        Optional.empty(),
                        true);
        assertTrue(painter.paint(low).roomHidden());
    }

    @Test
    void anEmptyCabinetAndAFineScreenAreDrawnToo() {
        ChartSpec full = spec(flat(), Optional.empty(), false);
        ChartSpec empty =
                new ChartSpec(
                        new ChartSpec.Frame(
                                400, 200, 2, "SansSerif", TemperatureUnit.CELSIUS, ZoneOffset.UTC),
                        full.span(),
                        List.of(),
                        Trace.empty(),
                        Trace.empty(),
                        Optional.empty(),
                        true,
                        true,
                        Optional.empty(),
                        false);
        ChartPicture picture = painter.paint(empty);
        assertEquals(800, picture.pixelWidth());
        assertEquals(400, picture.pixelHeight());
        assertEquals(full.span().from(), picture.momentAt(0));
        assertEquals(full.span().to(), picture.momentAt(10_000));
    }

    @Test
    void aPlaceOnThePictureIsAMoment() {
        ChartPicture picture = painter.paint(spec(flat(), Optional.empty(), false));
        double middle = (picture.area().left() + picture.area().right()) / 2;
        assertEquals(BEGIN.plus(Duration.ofHours(12)), picture.momentAt(middle));
    }

    private static double[] flat() {
        double[] values = new double[SECONDS];
        java.util.Arrays.fill(values, 31.8);
        return values;
    }

    private static ChartSpec spec(double[] values, Optional<Instant> silent, boolean closeUp) {
        long[] times = new long[SECONDS];
        double[] setPoint = new double[SECONDS];
        double[] room = new double[SECONDS];
        for (int i = 0; i < SECONDS; i++) {
            times[i] = BEGIN.toEpochMilli() + 1000L * i;
            setPoint[i] = 31.5;
            room[i] = 21;
        }
        List<ProbeTrace> probes = new ArrayList<>();
        probes.add(
                new ProbeTrace(
                        "top",
                        ProbePlace.TOP,
                        Unit.CELSIUS,
                        Trace.of(Curve.of(times, values, SECONDS))));
        probes.add(
                new ProbeTrace(
                        "room",
                        ProbePlace.AMBIENT,
                        Unit.CELSIUS,
                        Trace.of(Curve.of(times, room, SECONDS))));
        return new ChartSpec(
                new ChartSpec.Frame(
                        900, 600, 1, "SansSerif", TemperatureUnit.CELSIUS, ZoneOffset.UTC),
                new TimeSpan(BEGIN, BEGIN.plusSeconds(SECONDS)),
                probes,
                Trace.of(Curve.of(times, setPoint, SECONDS)),
                Trace.empty(),
                Optional.of(
                        new Limits(
                                Temperature.ofCelsius(30.5),
                                Temperature.ofCelsius(32.5),
                                Temperature.ofCelsius(33.5),
                                Temperature.ofCelsius(34.5))),
                closeUp,
                true,
                silent,
                true);
    }

    private static int columnOf(ChartPicture picture, int second) {
        ChartPicture.PlotArea area = picture.area();
        return (int) (area.left() + (area.right() - area.left()) * second / SECONDS);
    }

    /** Whether a pixel is the mark's ink laid over white with at least a third of its strength. */
    private static boolean isInk(int argb, Mark mark) {
        double along = 0;
        double inkSquare = 0;
        for (int shift = 0; shift <= 16; shift += 8) {
            double ink = 255 - ((mark.ink().rgb() >> shift) & 0xFF);
            along += (255 - ((argb >> shift) & 0xFF)) * ink;
            inkSquare += ink * ink;
        }
        double strength = along / inkSquare;
        double besideSquare = 0;
        for (int shift = 0; shift <= 16; shift += 8) {
            double ink = 255 - ((mark.ink().rgb() >> shift) & 0xFF);
            double beside = (255 - ((argb >> shift) & 0xFF)) - strength * ink;
            besideSquare += beside * beside;
        }
        return strength > 0.33 && Math.sqrt(besideSquare) < 0.2 * strength * Math.sqrt(inkSquare);
    }

    private static int count(ChartPicture picture, int x, Mark mark) {
        int found = 0;
        for (int y = 0; y < picture.pixelHeight(); y++) {
            if (isInk(picture.pixels()[y * picture.pixelWidth() + x], mark)) {
                found++;
            }
        }
        return found;
    }

    private static int highest(ChartPicture picture, int around, Mark mark) {
        for (int y = 0; y < picture.pixelHeight(); y++) {
            for (int x = around - 2; x <= around + 2; x++) {
                if (isInk(picture.pixels()[y * picture.pixelWidth() + x], mark)) {
                    return y;
                }
            }
        }
        return picture.pixelHeight();
    }

    private static int differing(ChartPicture one, ChartPicture other, int x) {
        int found = 0;
        for (int y = 0; y < one.pixelHeight(); y++) {
            int at = y * one.pixelWidth() + x;
            if (one.pixels()[at] != other.pixels()[at]) {
                found++;
            }
        }
        return found;
    }

    private static int spread(ChartPicture picture) {
        int highest = picture.pixelHeight();
        int lowest = 0;
        for (int x = (int) picture.area().left(); x < picture.area().right(); x++) {
            for (int y = 0; y < picture.pixelHeight(); y++) {
                if (isInk(picture.pixels()[y * picture.pixelWidth() + x], Mark.TOP)) {
                    highest = Math.min(highest, y);
                    lowest = Math.max(lowest, y);
                }
            }
        }
        return lowest - highest;
    }
}
