package io.evenwarm.monitor.web;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.monitor.history.CabinetCurves;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.Curve;
import io.evenwarm.monitor.history.ProbeCurve;
import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.quantity.TemperatureUnit;
import java.io.ByteArrayInputStream;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.time.ZoneId;
import java.util.List;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import javax.xml.parsers.DocumentBuilderFactory;
import org.junit.jupiter.api.Test;

final class DaySketchTest {

    private static final Instant FROM = Instant.parse("2026-03-01T18:00:00Z");
    private static final TimeSpan DAY = new TimeSpan(FROM, FROM.plusSeconds(86_400));
    private static final ZoneId ZONE = ZoneId.of("Europe/Berlin");
    private static final Pattern CURVE = Pattern.compile("<path d=\"([^\"]*)\" fill=\"#0072b2\"");

    private static String svg(String probe, long[] seconds, double[] values) {
        long[] millis = new long[seconds.length];
        for (int i = 0; i < seconds.length; i++) {
            millis[i] = FROM.toEpochMilli() + seconds[i] * 1000;
        }
        return DaySketch.svg(
                new CabinetCurves(
                        new CabinetKey(new AgentName("egg room"), new CabinetName("north")),
                        DAY,
                        List.of(
                                new ProbeCurve(
                                        new ProbeName(probe),
                                        ProbePlace.TOP,
                                        ProbeCurve.Unit.CELSIUS,
                                        Curve.of(millis, values, values.length))),
                        Curve.empty(),
                        Curve.empty(),
                        Optional.empty()),
                TemperatureUnit.CELSIUS,
                ZONE);
    }

    private static String curve(String svg) {
        Matcher matcher = CURVE.matcher(svg);
        assertTrue(matcher.find(), svg);
        return matcher.group(1);
    }

    @Test
    void anExcursionOfOneReadingIsInThePicture() {
        long[] seconds = new long[17_280];
        double[] values = new double[seconds.length];
        for (int i = 0; i < seconds.length; i++) {
            seconds[i] = i * 5L;
            values[i] = i == 9000 ? 38.0 : 31.5;
        }
        String svg = svg("top", seconds, values);
        // 38 °C is the greatest value: a twentieth of the range below the picture's upper edge.
        double top = 8 + 106 * (0.05 / 1.1);
        assertTrue(curve(svg).contains(String.format("%.1f", top)), curve(svg));
        assertTrue(svg.length() < 8000, svg.length() + " characters");
    }

    @Test
    void whereNothingWasReadNothingIsDrawn() {
        String curve =
                curve(
                        svg(
                                "top",
                                new long[] {0, 300, 600, 43_200, 43_500},
                                new double[] {31, 31.2, Double.NaN, 31.1, 31}));
        assertEquals(2, curve.chars().filter(c -> c == 'M').count(), curve);
    }

    @Test
    void hoursAreTheKeepersOwn() {
        String svg = svg("top", new long[] {0}, new double[] {31});
        // From 19:00 in Berlin: midnight, 6, 12 and 18 o'clock.
        assertEquals(
                List.of("00:00", "06:00", "12:00", "18:00"),
                Pattern.compile(">([0-9]{2}:00)<")
                        .matcher(svg)
                        .results()
                        .map(found -> found.group(1))
                        .toList());
    }

    @Test
    void aDayWithoutReadingsSaysSo() {
        String svg = svg("top", new long[0], new double[0]);
        assertTrue(svg.contains("no readings on this day"), svg);
        assertFalse(CURVE.matcher(svg).find());
    }

    @Test
    void aPictureIsWellFormed() throws Exception {
        String svg = svg("top 2", new long[] {0, 600}, new double[] {31, 32});
        assertEquals(
                "svg",
                DocumentBuilderFactory.newInstance()
                        .newDocumentBuilder()
                        .parse(new ByteArrayInputStream(svg.getBytes(StandardCharsets.UTF_8)))
                        .getDocumentElement()
                        .getTagName());
    }
}
