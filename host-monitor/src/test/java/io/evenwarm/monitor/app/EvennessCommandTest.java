package io.evenwarm.monitor.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.monitor.Journal;
import io.evenwarm.monitor.store.HistoryStore;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The command at a store with an invented cabinet: six hours uneven, six hours with a new fan. */
final class EvennessCommandTest {

    private static final String[] PLACES = {
        "top", "middle", "bottom", "shelf 1 left", "shelf 1 right", "shelf 2 left", "shelf 2 right"
    };
    private static final double[] BEFORE = {32.1, 31.5, 31.0, 31.8, 31.7, 31.3, 31.4};
    private static final double[] AFTER = {31.6, 31.5, 31.45, 31.55, 31.5, 31.45, 31.5};

    private static final String[] BEFORE_SPAN = {"2030-03-01T00:00:00Z", "2030-03-01T06:00:00Z"};
    private static final String[] AFTER_SPAN = {"2030-03-01T06:10:00Z", "2030-03-01T12:00:00Z"};

    private final Path home;
    private final CommandRun command;

    EvennessCommandTest(@TempDir Path home) {
        this.home = home;
        command = new CommandRun(home);
    }

    private int run(String... arguments) {
        return command.run(arguments);
    }

    private String out() {
        return command.out();
    }

    private String err() {
        return command.err();
    }

    @BeforeEach
    void store() throws IOException {
        command.settings("C");
        Journal journal = new Journal();
        Random random = new Random(42);
        double common = 0;
        StringBuilder logger = new StringBuilder("Wann;" + String.join(";", PLACES) + "\n");
        for (int minute = 0; minute < 720; minute++) {
            common = 0.95 * common + 0.01 * random.nextGaussian();
            List<ProbeReading> readings = new ArrayList<>();
            // The logger stands in another zone, two hours ahead, and writes °F.
            logger.append(
                    DateTimeFormatter.ofPattern("dd.MM.uuuu HH:mm", Locale.ROOT)
                            .format(Journal.at(minute * 60.0).atOffset(ZoneOffset.ofHours(2))));
            for (int i = 0; i < PLACES.length; i++) {
                double mean = minute < 365 ? BEFORE[i] : AFTER[i];
                double celsius = mean + common + 0.05 * random.nextGaussian();
                readings.add(Journal.good(PLACES[i], ProbePlace.of(PLACES[i]), celsius));
                logger.append(
                        String.format(Locale.ROOT, ";%.4f", celsius * 1.8 + 32).replace('.', ','));
            }
            logger.append('\n');
            readings.add(Journal.good("room", ProbePlace.AMBIENT, 21));
            journal.readings(minute * 60.0, readings.toArray(ProbeReading[]::new));
        }
        Files.writeString(home.resolve("logger.csv"), logger);
        try (HistoryStore store = HistoryStore.open(command.data())) {
            store.append(new AgentName("egg room"), "journal", journal.take());
        }
    }

    private static String[] with(String[] span, String... more) {
        List<String> all = new ArrayList<>(List.of("evenness", "north"));
        all.addAll(List.of("--from", span[0], "--to", span[1]));
        for (String place : PLACES) {
            all.add("--offset");
            all.add(place + "=0:0.05");
        }
        all.addAll(List.of(more));
        return all.toArray(String[]::new);
    }

    @Test
    void anUnevenCabinetFailsAndItsPlacesAreNamed() {
        assertEquals(1, run(with(BEFORE_SPAN)), err());
        assertTrue(out().startsWith("Cabinet north of egg room, 2030-03-01 00:00 to"), out());
        assertTrue(out().contains("\nFAIL: top leaves ±0.50 K of the set point, by 0."), out());
        assertTrue(out().contains("\nTemperature gradient            1.1"), out());
        assertTrue(out().contains("from bottom to top\n"), out());
        assertTrue(out().contains("\nHot spots                       top"), out());
        assertTrue(out().contains("\nDead spots                      bottom\n"), out());
        assertEquals("", err());
    }

    @Test
    void anEvenOnePasses() {
        assertEquals(0, run(with(AFTER_SPAN)), out() + err());
        assertTrue(out().contains("\nPASS: every point keeps within ±0.50 K"), out());
        assertTrue(out().contains("\nHot spots                       none\n"), out());
    }

    @Test
    void withProbesAsBoughtNothingIsProved() {
        assertEquals(1, run("evenness", "north", "--from", AFTER_SPAN[0], "--to", AFTER_SPAN[1]));
        assertTrue(out().contains("\nNOT PROVED: "), out());
        assertTrue(out().contains("Compare the probes side by side"), out());
    }

    @Test
    void theNewFanIsCalledBetterWhicheverSpanIsNamedFirst() {
        String[] later = with(AFTER_SPAN, "--against", BEFORE_SPAN[0], BEFORE_SPAN[1]);
        assertEquals(0, run(later), err());
        assertTrue(
                out().contains("Against 2030-03-01 00:00 to 2030-03-01 06:00, before\nBetter: "),
                out());
        String sentence = out().lines().filter(l -> l.startsWith("Better")).findAny().orElse("");
        assertTrue(sentence.contains("the gradient is 0.9"), sentence);
        assertEquals(0, run(with(BEFORE_SPAN, "--against", AFTER_SPAN[0], AFTER_SPAN[1])));
        assertTrue(out().contains(", after\n" + sentence), out());
    }

    @Test
    void jsonIsOneObjectWithTheSameAnswer() {
        assertEquals(
                0, run(with(AFTER_SPAN, "--json", "--against", BEFORE_SPAN[0], BEFORE_SPAN[1])));
        String json = out().strip();
        assertFalse(json.contains("\n"));
        assertTrue(json.startsWith("{\"agent\": \"egg room\", \"cabinet\": \"north\""), json);
        assertTrue(json.contains("\"verdict\": {\"answer\": \"pass\", \"marginKelvin\": 0."), json);
        assertTrue(json.contains("\"comparison\": {\"answer\": \"better\""), json);
    }

    @Test
    void aKeeperWhoChoseFahrenheitReadsFahrenheit() throws IOException {
        command.settings("F");
        assertEquals(0, run(with(AFTER_SPAN)), err());
        assertTrue(out().contains("within ±0.90 °F of the set point"), out());
        assertTrue(out().contains("in °F, ± 95 %"), out());
        assertTrue(Pattern.compile("\nmiddle +88\\.[67]").matcher(out()).find(), out());
    }

    /** Figures of JSON, by name, in order. */
    private static List<Double> figures(String json) {
        List<Double> figures = new ArrayList<>();
        Matcher matcher = Pattern.compile("\"value\": (-?[0-9.]+)").matcher(json);
        while (matcher.find()) {
            figures.add(Double.parseDouble(matcher.group(1)));
        }
        return figures;
    }

    private void importLogger(
            String cabinet, String zone, String afterTheProbesName, String... places) {
        List<String> imported =
                new ArrayList<>(
                        List.of(
                                "readings",
                                "import",
                                home.resolve("logger.csv").toString(),
                                "--agent",
                                "egg room",
                                "--cabinet",
                                cabinet,
                                "--time",
                                "Wann",
                                "--time-form",
                                "dd.MM.yyyy HH:mm",
                                "--zone",
                                zone,
                                "--separator",
                                ";",
                                "--decimal-comma",
                                "--unit",
                                "F"));
        for (String place : places) {
            imported.add("--value");
            imported.add(place + "=" + place + afterTheProbesName);
        }
        assertEquals(0, run(imported.toArray(String[]::new)), err());
    }

    /** The logger's file is read as if it stood one hour ahead: all of it comes an hour late. */
    @Test
    void aLoggerInTheWrongZoneIsNamedAndTheVerdictWithheld() {
        importLogger("north", "+01:00", " logger", "shelf 1 left");
        assertEquals(1, run(with(BEFORE_SPAN)), err());
        assertTrue(out().contains("No verdict:\n  shelf 1 left logger "), out());
        assertTrue(out().contains("the clock of its logger, or its zone, is"), out());
        assertTrue(
                out().contains("leave this one out by --without \"shelf 1 left logger\"."), out());
        assertEquals(1, run(with(BEFORE_SPAN, "--without", "shelf 1 left logger")), err());
        assertTrue(out().contains("\nFAIL: top leaves"), out());
        importLogger("north", "+02:00", " logger", "shelf 1 right");
        assertEquals(1, run(with(BEFORE_SPAN, "--without", "shelf 1 left logger")), err());
        assertTrue(out().contains("\nFAIL: top leaves"), out());
        assertTrue(out().contains("\nshelf 1 right logger "), out());
    }

    /** Invented logger: semicolons, decimal commas, °F, another zone. */
    @Test
    void anImportedLoggerGivesTheSameSurveyAsTheAgentsOwnReadings() {
        importLogger("logged", "+02:00", "", PLACES);
        assertEquals(0, run(with(AFTER_SPAN, "--json")), err());
        List<Double> own = figures(out());
        String[] logged = with(AFTER_SPAN, "--json", "--set-point", "31.5");
        logged[1] = "logged";
        assertEquals(0, run(logged), err());
        List<Double> theirs = figures(out());
        assertEquals(own.size(), theirs.size());
        assertTrue(own.size() > 30, own.toString());
        for (int i = 0; i < own.size(); i++) {
            assertEquals(own.get(i), theirs.get(i), 2e-4, "figure " + i);
        }
    }

    @Test
    void fileAndPageAreWrittenOnceAndStandAlone() throws IOException {
        Path csv = home.resolve("points.csv");
        Path page = home.resolve("page.html");
        String[] all = with(BEFORE_SPAN, "--csv", csv.toString(), "--page", page.toString());
        assertEquals(1, run(all), err());
        List<String> lines = Files.readAllLines(csv);
        assertEquals(1 + PLACES.length, lines.size());
        assertTrue(lines.get(1).startsWith("top,top,celsius,32."), lines.get(1));
        assertTrue(lines.get(1).endsWith(",hot spot,fail"), lines.get(1));
        String html = Files.readString(page);
        if (System.getProperty("evenness.pages") != null) {
            Files.copy(page, Path.of(System.getProperty("evenness.pages"), "page.html"));
        }
        assertFalse(html.contains("http"), "nothing is fetched from elsewhere");
        assertFalse(html.contains("<script"));
        for (String place : PLACES) {
            assertTrue(html.contains("class=\"place\">" + place + "</text>"), place);
        }
        assertTrue(html.contains("▲ hot spot") && html.contains("▼ dead spot"));
        assertEquals(2, run(all));
        assertTrue(err().contains("must be a file that is not there yet"), err());
    }

    @Test
    void aLiveSurveyEndsByItselfOnceItHasBeenSettledForLongEnough() {
        String[] live = with(AFTER_SPAN, "--live", "--settled", "2", "--load", "empty");
        List<String> without = new ArrayList<>(List.of(live));
        int to = without.indexOf("--to");
        without.subList(to, to + 2).clear();
        assertEquals(0, run(without.toArray(String[]::new)), out() + err());
        assertTrue(err().startsWith("Surveying north from 2030-03-01 06:10 on: keep"), err());
        assertTrue(out().contains("\nEmpty, as said.\n"), out());
        assertTrue(out().contains("\nPASS: every point keeps within ±0.50 K"), out());
        assertEquals(2, run(live));
        assertTrue(err().startsWith("--to, --door, --positions and --against are of spans"), err());
        without.addAll(List.of("--wait", "1000"));
        assertEquals(2, run(without.toArray(String[]::new)));
        assertEquals("--wait must be 0.5 to 336 h but was 1000.0", err().strip());
        assertEquals(2, run("evenness", "north", "--from", AFTER_SPAN[0]));
        assertTrue(err().startsWith("--from TIME and --to TIME say which span"), err());
        assertEquals(2, run(with(AFTER_SPAN, "--settled", "2")));
        assertEquals("--settled and --wait go with --live", err().strip());
    }

    @Test
    void whatStoodInTheCabinetIsSaidAndAContradictionNamed() {
        assertEquals(0, run(with(AFTER_SPAN)));
        assertTrue(out().contains("\nWhether it was empty or loaded is not known"), out());
        assertEquals(
                0,
                run(
                        "tubs",
                        "add",
                        "blue 3",
                        "--agent",
                        "egg room",
                        "--cabinet",
                        "north",
                        "--shelf",
                        "shelf 2",
                        "--grams",
                        "1500",
                        "--contents",
                        "invented eggs",
                        "--from",
                        "2030-03-01T05:00:00Z"),
                err());
        assertEquals(
                0,
                run(
                        with(
                                AFTER_SPAN,
                                "--load",
                                "empty",
                                "--against",
                                BEFORE_SPAN[0],
                                BEFORE_SPAN[1],
                                "--against-load",
                                "loaded",
                                "--json")),
                err());
        assertTrue(out().contains("\"load\": {\"was\": \"empty\", \"said\": \"empty\""), out());
        assertTrue(out().contains("\"contradiction\": \"But by the record blue 3 stood"), out());
        assertTrue(out().contains("\"loadsDiffer\": \"One was surveyed empty"), out());
        assertEquals(2, run(with(AFTER_SPAN, "--load", "half")));
        assertTrue(err().contains("[EMPTY, empty, LOADED, loaded]"), err());
    }

    /** Said once: later surveys know it, and the comparison warns. */
    @Test
    void whatWasSaidOfTheLoadIsKeptForLaterSurveys() {
        assertEquals(1, run(with(BEFORE_SPAN, "--load", "loaded")), err());
        assertEquals(0, run(with(AFTER_SPAN, "--load", "empty")), err());
        assertEquals(0, run(with(AFTER_SPAN, "--against", BEFORE_SPAN[0], BEFORE_SPAN[1])), err());
        assertTrue(
                out().contains("\nEmpty, as said of 2030-03-01 06:10 to 2030-03-01 12:00.\n"),
                out());
        assertTrue(
                out().contains("\nLoaded, as said of 2030-03-01 00:00 to 2030-03-01 06:00.\n"),
                out());
        assertTrue(out().contains("\nOne was surveyed empty and the other loaded"), out());
        assertEquals(0, run(with(AFTER_SPAN, "--load", "loaded")), err());
        assertEquals(0, run(with(AFTER_SPAN, "--against", BEFORE_SPAN[0], BEFORE_SPAN[1])), err());
        assertFalse(out().contains("One was surveyed empty"), out());
    }

    @Test
    void positionsAreKeptForLaterSurveysAndReplacedByANewFile() throws IOException {
        String file =
                positions(
                        "shelf 2 right,shelf 2 right,2030-03-01T06:00,2030-03-01T09:00",
                        "shelf 2 right,shelf 2 left back,2030-03-01T09:05,2030-03-01T12:00:00Z");
        assertEquals(0, run(with(AFTER_SPAN, "--positions", file)), err());
        assertEquals(0, run(with(AFTER_SPAN)), err());
        assertTrue(out().contains("\nshelf 2 right (shelf 2 left back) "), out());
        assertEquals(1, run(with(BEFORE_SPAN)), err());
        String other =
                positions("shelf 2 right,shelf 2 left front,2030-03-01T06:00,2030-03-01T12:00");
        assertEquals(0, run(with(AFTER_SPAN, "--positions", other)), err());
        assertEquals(0, run(with(AFTER_SPAN)), err());
        assertTrue(out().contains("\nshelf 2 right (shelf 2 left front) "), out());
        assertFalse(out().contains("shelf 2 left back"), out());
        assertEquals(
                2,
                run(
                        with(
                                AFTER_SPAN,
                                "--positions",
                                positions("shelf 2 right,top,2030-03-01T06:00,2030-03-01T12:00"))));
        assertEquals(0, run(with(AFTER_SPAN)), "what contradicts itself is not kept: " + err());
    }

    private String positions(String... lines) throws IOException {
        Path file = home.resolve("positions.csv");
        Files.writeString(file, "probe,position,from,to\n" + String.join("\n", lines) + "\n");
        return file.toString();
    }

    @Test
    void aProbeThatWasMovedIsSurveyedAtEachOfItsPlaces() throws IOException {
        String file =
                positions(
                        "shelf 2 right,shelf 2 right,2030-03-01T06:00,2030-03-01T09:00",
                        "shelf 2 right,shelf 2 left back,2030-03-01T09:05,2030-03-01T12:00:00Z");
        Path page = home.resolve("moved.html");
        assertEquals(
                0, run(with(AFTER_SPAN, "--positions", file, "--page", page.toString())), err());
        assertTrue(out().contains("\nProbes were moved. Settled 2030-03-01 06:"), out());
        assertTrue(out().contains("\nshelf 2 right (shelf 2 left back) "), out());
        assertTrue(out().contains("by its difference to middle, measured all the time"), out());
        assertTrue(Files.readString(page).contains("shelf 2 left back</text>"));
        assertEquals(0, run(with(AFTER_SPAN, "--positions", file, "--json")), err());
        assertTrue(
                out().contains(
                                "\"moved\": {\"comparedWith\": \"middle\", \"places\":"
                                        + " [{\"probe\": \"shelf 2 right\", \"position\":"
                                        + " \"shelf 2 right\", \"settled\": [{\"from\":"
                                        + " \"2030-03-01T06:10"),
                out());
    }

    @Test
    void positionsThatCanNotBeAreNamedWithTheirLine() throws IOException {
        String twice =
                positions(
                        "middle,shelf 3,2030-03-01T06:00,2030-03-01T10:00",
                        "middle,shelf 4,2030-03-01T09:00,2030-03-01T12:00");
        assertEquals(2, run(with(AFTER_SPAN, "--positions", twice)));
        assertEquals(
                "middle can't stand at two positions at once, but from 2030-03-01 09:00 to"
                        + " 2030-03-01 10:00 it is said to be at \"shelf 3\" and at \"shelf 4\"",
                err().strip());
        String late = positions("middle,shelf 3,2030-03-01T06:00,2030-03-01T05:00");
        assertEquals(2, run(with(AFTER_SPAN, "--positions", late)));
        assertTrue(
                err().strip()
                        .endsWith("line 2: to must be after from, but 2030-03-01T05:00 is not"),
                err());
        String room = positions("middle,ambient,2030-03-01T06:00,2030-03-01T12:00");
        assertEquals(2, run(with(AFTER_SPAN, "--positions", room)));
        assertTrue(
                err().contains("line 2: a position must be in the cabinet's air, or \"out\""),
                err());
        String three = positions("middle,shelf 3,2030-03-01T06:00");
        assertEquals(2, run(with(AFTER_SPAN, "--positions", three)));
        assertTrue(
                err().contains("line 2: there must be 4 columns, probe,position,from,to"), err());
        assertEquals(2, run(with(AFTER_SPAN, "--positions", positions())));
        assertTrue(err().contains("but has none"), err());
        Path other = home.resolve("other.csv");
        Files.writeString(other, "where,when\n1,2\n");
        assertEquals(2, run(with(AFTER_SPAN, "--positions", other.toString())));
        assertTrue(err().contains("but began with \"where,when\""), err());
        assertEquals(2, run(with(AFTER_SPAN, "--positions", "no-such.csv")));
        assertEquals(
                "--positions must be a CSV file that is there, but no-such.csv is none",
                err().strip());
    }

    @Test
    void noVerdictIsNamedAndIsNoSuccess() {
        assertEquals(
                1, run(with(new String[] {"2030-03-01T00:00:00Z", "2030-03-01T00:20:00Z"})), err());
        assertTrue(out().contains("No verdict:\n  There are only 20 min of readings"), out());
    }

    @Test
    void badInputSaysWhatIsAllowed() {
        assertEquals(2, run("evenness", "south", "--from", BEFORE_SPAN[0], "--to", BEFORE_SPAN[1]));
        assertEquals("CABINET must be one of egg room/north, but \"south\" is none", err().strip());
        assertEquals(2, run("evenness", "north", "--from", "yesterday", "--to", BEFORE_SPAN[1]));
        assertTrue(err().startsWith("--from must be a time such as"), err());
        assertEquals(2, run("evenness", "north", "--from", BEFORE_SPAN[1], "--to", BEFORE_SPAN[0]));
        assertTrue(err().startsWith("--to must be after --from"), err());
        assertEquals(2, run(with(BEFORE_SPAN, "--offset", "top:0.1")));
        assertTrue(err().startsWith("--offset must be PROBE=K:±K such as"), err());
        assertEquals(2, run(with(BEFORE_SPAN, "--without", "attic")));
        assertTrue(err().contains("but named attic"), err());
        assertEquals(2, run(with(BEFORE_SPAN, "--limit", "-1")));
        assertTrue(err().startsWith("the limit must be more than 0"), err());
        assertEquals(2, run(with(BEFORE_SPAN, "--door", "2031-01-01T00:00:00Z")));
        assertTrue(err().startsWith("the door must be opened within the span"), err());
    }

    @Test
    void placesForTheProbesAreListedForACabinetsSize() {
        assertEquals(0, run("places", "600", "500", "800"), err());
        assertTrue(out().startsWith("240 l, 9 places; mm from"), out());
        assertTrue(out().contains("\ntop left front          60    50   720\n"), out());
        assertTrue(out().contains("DIN 12880 asks for 27 places"), out());
        assertEquals(0, run("places", "600", "500", "800", "--all"));
        assertEquals(28, out().lines().count());
        assertEquals(2, run("places", "60", "500", "800"));
        assertEquals("width must be 150.0 to 5000.0 mm but was 60.0", err().strip());
    }
}
