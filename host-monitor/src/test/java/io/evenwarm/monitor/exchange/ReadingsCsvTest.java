package io.evenwarm.monitor.exchange;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.Reading;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.ProbeCurve;
import io.evenwarm.monitor.history.StoredReading;
import java.io.IOException;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Our own CSV comes back as it was; another logger's is read right, and its nonsense told. */
final class ReadingsCsvTest {

    private static final CabinetKey KEY =
            new CabinetKey(new AgentName("egg room"), new CabinetName("north"));

    private final Path file;
    private final List<String> rejected = new ArrayList<>();

    ReadingsCsvTest(@TempDir Path folder) {
        file = folder.resolve("readings.csv");
    }

    private List<StoredReading> own(String... lines) throws IOException {
        Files.writeString(file, String.join("\n", lines));
        List<StoredReading> found = new ArrayList<>();
        ReadingsCsv.readOwn(file, found::add, line -> rejected.add(line.text()));
        return found;
    }

    private List<String> logger(LoggerForm form, String... lines) throws IOException {
        Files.writeString(file, String.join("\r\n", lines), form.charset());
        List<String> found = new ArrayList<>();
        ReadingsCsv.readLogger(
                file,
                form,
                r ->
                        found.add(
                                String.format(
                                        Locale.ROOT,
                                        "%s %s %.4f",
                                        Instant.ofEpochMilli(r.epochMillis()),
                                        r.probe(),
                                        r.value().getAsDouble())),
                line -> rejected.add(line.text()));
        return found;
    }

    private static LoggerForm form(String timeForm, LoggerForm.Unit unit) {
        return new LoggerForm(
                KEY,
                "When",
                timeForm,
                ZoneId.of("Europe/Berlin"),
                Map.of("Temp", new ProbeName("top")),
                unit,
                ',',
                false,
                StandardCharsets.UTF_8);
    }

    @Test
    void whatWasWrittenComesBack() throws IOException {
        List<StoredReading> readings =
                List.of(
                        new StoredReading(
                                KEY,
                                new ProbeName("top"),
                                ProbePlace.TOP,
                                Optional.of(ProbeCurve.Unit.CELSIUS),
                                1_900_000_000_123L,
                                OptionalDouble.of(31.0625),
                                Optional.empty()),
                        new StoredReading(
                                KEY,
                                new ProbeName("top"),
                                ProbePlace.of("door side"),
                                Optional.of(ProbeCurve.Unit.CELSIUS),
                                1_900_000_005_000L,
                                OptionalDouble.of(0.1 + 0.2),
                                Optional.of(Reading.Doubt.TOO_FAST)),
                        new StoredReading(
                                KEY,
                                new ProbeName("damp"),
                                ProbePlace.MIDDLE,
                                Optional.empty(),
                                -5,
                                OptionalDouble.empty(),
                                Optional.of(Reading.Doubt.NOT_YET_READ)));
        StringBuilder out = new StringBuilder();
        ReadingsCsv.write(
                sink -> {
                    for (StoredReading reading : readings) {
                        sink.accept(reading);
                    }
                },
                out);
        assertEquals(
                """
                time,agent,cabinet,probe,position,unit,value,doubt
                2030-03-17T17:46:40.123Z,egg room,north,top,top,celsius,31.0625,
                2030-03-17T17:46:45Z,egg room,north,top,door side,celsius,0.30000000000000004,too-fast
                1969-12-31T23:59:59.995Z,egg room,north,damp,middle,,,not-yet-read
                """,
                out.toString());
        assertEquals(readings, own(out.toString()));
        assertEquals(List.of(), rejected);
    }

    @Test
    void aLineThatIsNoReadingIsToldWithWhatWasFoundAndIsAllowed() throws IOException {
        List<StoredReading> found =
                own(
                        "time,agent,cabinet,probe,position,unit,value,doubt",
                        "2030-03-01T00:00:00Z,egg room,north,top,top,celsius,31.5,",
                        "yesterday,egg room,north,top,top,celsius,31.5,",
                        "2030-03-01T00:00:10Z,egg room,north,top,top,kelvin,304,",
                        "2030-03-01T00:00:15Z,egg room,north,top,top,celsius,warm,",
                        "2030-03-01T00:00:20Z,egg room,north,top,top,celsius,NaN,",
                        "2030-03-01T00:00:25Z,egg room,north,top,top,celsius,,",
                        "2030-03-01T00:00:30Z,egg room,north,top,top,celsius,31,tired",
                        "2030-03-01T00:00:35Z,,north,top,top,celsius,31,",
                        "2030-03-01T00:00:40Z,egg room,north,top",
                        "2030-03-01T00:00:45Z,egg room,north,top,top,celsius,31.25,");
        assertEquals(2, found.size());
        assertEquals(8, rejected.size(), rejected.toString());
        assertEquals(
                "line 3: time: expected a time such as 2026-03-01T12:00:00Z but found"
                        + " \"yesterday\"",
                rejected.get(0));
        assertEquals(
                "line 4: unit: expected celsius or percent-relative-humidity but found \"kelvin\"",
                rejected.get(1));
        assertEquals("line 5: value: expected a number but found \"warm\"", rejected.get(2));
        assertTrue(rejected.get(3).startsWith("line 6: value: "), rejected.get(3));
        assertTrue(rejected.get(4).startsWith("line 7: value: expected a number, or a doubt"));
        assertTrue(
                rejected.get(5)
                        .startsWith("line 8: doubt: expected nothing or one of not-yet-read"));
        assertTrue(rejected.get(6).startsWith("line 9: agent: "), rejected.get(6));
        assertEquals("line 10: expected 8 columns but found 4", rejected.get(7));
    }

    @Test
    void aFileWithoutAColumnThatWasNamedIsRefusedWhole() throws IOException {
        FormException refused =
                assertThrows(
                        FormException.class,
                        () ->
                                logger(
                                        form("", LoggerForm.Unit.CELSIUS),
                                        "When;Temp",
                                        "2026-03-01 12:00:00;31"));
        assertEquals(
                file
                        + ", line 1: expected a column \"When\" but found \"When;Temp\", separated"
                        + " by \",\"",
                refused.getMessage());
    }

    @Test
    void localTimesAreThoseOfTheZoneAlsoWhenClocksAreChanged() throws IOException {
        // tz database, Europe/Berlin 2026: put on on 29 March at 02:00, back on 25 October at
        // 03:00.
        assertEquals(
                List.of(
                        "2026-03-29T00:59:00Z top 30.0000",
                        "2026-03-29T01:01:00Z top 31.0000",
                        "2026-10-25T00:30:00Z top 32.0000",
                        "2026-10-25T00:59:00Z top 33.0000",
                        "2026-10-25T01:00:00Z top 34.0000",
                        "2026-10-25T01:30:00Z top 35.0000",
                        "2026-10-25T02:00:00Z top 36.0000"),
                logger(
                        form("dd.MM.yyyy HH:mm", LoggerForm.Unit.CELSIUS),
                        "When,Temp",
                        "29.03.2026 01:59,30",
                        "29.03.2026 02:30,30.5",
                        "29.03.2026 03:01,31",
                        "25.10.2026 02:30,32",
                        "25.10.2026 02:59,33",
                        "25.10.2026 02:00,34",
                        "25.10.2026 02:30,35",
                        "25.10.2026 03:00,36"));
        assertEquals(
                List.of(
                        "line 3: When: expected a time that there was in Europe/Berlin, where"
                                + " clocks were put on but found \"29.03.2026 02:30\""),
                rejected);
    }

    @Test
    void fahrenheitDecimalCommasAndOtherEncodingsAreRead() throws IOException {
        Charset latin = StandardCharsets.ISO_8859_1;
        LoggerForm form =
                new LoggerForm(
                        KEY,
                        "Zeit",
                        "epoch-seconds",
                        ZoneId.of("UTC"),
                        Map.of("Wärme °F", new ProbeName("tub A")),
                        LoggerForm.Unit.FAHRENHEIT,
                        ';',
                        true,
                        latin);
        assertEquals(
                List.of("2026-03-01T12:00:00Z tub A 31.5000"),
                logger(form, "Zeit;Wärme °F;x", "1772366400;88,7;", "1772366460;;y"));
        assertEquals(List.of(), rejected);
        Files.write(file, "Zeit;Wärme °F\n1;2\n".getBytes(latin));
        FormException refused =
                assertThrows(
                        FormException.class,
                        () -> ReadingsCsv.readOwn(file, reading -> {}, line -> {}));
        assertTrue(
                String.valueOf(refused.getMessage())
                        .endsWith("name its encoding, for example --charset ISO-8859-1"),
                refused::toString);
    }

    @Test
    void isoTimesSayTheirOwnOffsetOrHaveTheZones() throws IOException {
        assertEquals(
                List.of(
                        "2026-07-01T10:00:00Z top 1.0000",
                        "2026-07-01T12:00:00Z top 2.0000",
                        "2026-07-01T09:00:00Z top 3.0000"),
                logger(
                        form("", LoggerForm.Unit.PERCENT_RELATIVE_HUMIDITY),
                        "\uFEFFWhen,Temp",
                        "2026-07-01 12:00:00,1",
                        "2026-07-01T12:00:00Z,2",
                        "2026-07-01T12:00:00+03:00,3",
                        "2026-07-01 12:00,101"));
        assertEquals(1, rejected.size(), rejected.toString());
    }

    @Test
    void aPatternThatIsNoneIsRefused() {
        FormException refused =
                assertThrows(
                        FormException.class,
                        () -> logger(form("bad{", LoggerForm.Unit.CELSIUS), "When,Temp"));
        assertTrue(
                String.valueOf(refused.getMessage())
                        .startsWith(
                                "the time's form must be a pattern such as dd.MM.yyyy HH:mm:ss"),
                refused::toString);
    }

    @Test
    void aQuoteThatIsNeverClosedIsNoCsv() throws IOException {
        Files.writeString(
                file,
                "time,agent,cabinet,probe,position,unit,value,doubt\n\"2030-03-01T00:00:00Z,x\n");
        FormException refused =
                assertThrows(
                        FormException.class,
                        () -> ReadingsCsv.readOwn(file, reading -> {}, line -> {}));
        assertTrue(
                String.valueOf(refused.getMessage()).contains(" is no CSV: "), refused::toString);
    }
}
