package io.evenwarm.monitor.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.ProbeSensor;
import io.evenwarm.monitor.Journal;
import io.evenwarm.monitor.evenness.ProbeEntry;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.store.HistoryStore;
import io.evenwarm.monitor.store.StoreFile;
import java.io.IOException;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Invented probes of one cabinet with known errors: an hour in a bath that settles, then six hours
 * in the cabinet's air, all at 31.5 °C.
 */
final class ProbesCommandTest {

    private static final String[] NAMES = {"top", "middle", "bottom"};
    private static final double[] ERRORS = {0.31, -0.18, 0.06};
    private static final String BATH_BEGIN = "2030-03-01T00:00:00Z";
    private static final String BATH_END = "2030-03-01T01:00:00Z";
    private static final String AIR_BEGIN = "2030-03-01T02:00:00Z";
    private static final String AIR_END = "2030-03-01T08:00:00Z";
    private static final CabinetKey NORTH =
            new CabinetKey(new AgentName("egg room"), Journal.NORTH);

    private final CommandRun command;

    ProbesCommandTest(@TempDir Path home) {
        command = new CommandRun(home);
    }

    @BeforeEach
    void store() throws IOException {
        command.settings("C");
        Journal journal = new Journal();
        Random random = new Random(7);
        for (int step = 0; step < 8 * 240; step++) {
            double second = 15.0 * step;
            boolean isInBath = second < 3600;
            double bath = 33 + 6 * Math.exp(-second / 400);
            ProbeReading[] readings = new ProbeReading[NAMES.length + 1];
            for (int i = 0; i < NAMES.length; i++) {
                double there = (isInBath ? bath : 31.5) + 0.02 * random.nextGaussian();
                readings[i] =
                        Journal.good(
                                NAMES[i],
                                ProbePlace.of(NAMES[i]),
                                Math.rint((there + ERRORS[i]) * 16) / 16);
            }
            readings[NAMES.length] =
                    Journal.good(
                            "pt100",
                            ProbePlace.of("bath"),
                            isInBath ? bath + 0.005 * random.nextGaussian() : 31.5);
            journal.readings(second, readings);
        }
        try (HistoryStore store = HistoryStore.open(command.data())) {
            store.append(new AgentName("egg room"), "journal", journal.take());
            // Of the reference nobody knows what it is.
            store.sensors(
                    new AgentName("egg room"),
                    Arrays.stream(NAMES)
                            .map(
                                    name ->
                                            new ProbeSensor(
                                                    Journal.NORTH, new ProbeName(name), "ds18b20"))
                            .toList(),
                    Journal.at(0));
        }
    }

    private static String[] check(String... more) {
        String[] all = new String[more.length + 3];
        all[0] = "probes";
        all[1] = "check";
        all[2] = "north";
        System.arraycopy(more, 0, all, 3, more.length);
        return all;
    }

    private static String[] beside(String... more) {
        String[] usual = {
            "--beside", "pt100", "--reference", "invented Pt100, 17/2030", "--plus-minus", "0.04"
        };
        String[] all = new String[usual.length + more.length];
        System.arraycopy(usual, 0, all, 0, usual.length);
        System.arraycopy(more, 0, all, usual.length, more.length);
        return check(all);
    }

    private List<ProbeEntry> kept(String probe) throws IOException {
        return new StoreFile(command.data()).probeRecord().of(NORTH, new ProbeName(probe));
    }

    @Test
    void eachProbesOffsetIsFoundWithinItsUncertaintyAndKeptWithItsDateAndReference()
            throws IOException {
        assertEquals(
                0, command.run(beside("--from", BATH_BEGIN, "--to", BATH_END, "--yes")), err());
        assertTrue(
                out().startsWith(
                                "egg room/north, side by side with invented Pt100, 17/2030,"
                                        + " 2030-03-01 01:00"),
                out());
        assertTrue(out().endsWith("Kept.\n"), out());
        for (int i = 0; i < NAMES.length; i++) {
            ProbeEntry entry = kept(NAMES[i]).get(0);
            assertEquals(ProbeEntry.Kind.SIDE_BY_SIDE, entry.kind());
            assertEquals("invented Pt100, 17/2030", entry.reference());
            assertEquals(BATH_END, entry.at().toString());
            double offset = entry.offset().orElseThrow().value();
            double expanded = entry.offset().orElseThrow().expanded();
            assertTrue(Math.abs(offset + ERRORS[i]) < expanded, entry.toString());
            assertTrue(expanded < 0.08, entry.toString());
        }
        assertEquals(List.of(), kept("pt100"));
    }

    @Test
    void nothingIsKeptBeforeAllHaveSettledAndWhatChangesIsNamed() throws IOException {
        assertEquals(
                1,
                command.run(beside("--from", BATH_BEGIN, "--to", "2030-03-01T00:25:00Z", "--yes")));
        assertTrue(err().contains("top still changes: in the last 20 min it was up to "), err());
        assertTrue(err().contains(" from its mean and falls; wait until all"), err());
        assertEquals(List.of(), kept("top"));
    }

    @Test
    void aCheckThatGoesOnNowTakesNoKeyPressesWhereTheBeginIsSaid() throws IOException {
        assertEquals(
                0,
                command.run(
                        check(
                                "--reads",
                                "31.50",
                                "--reference",
                                "invented glass",
                                "--plus-minus",
                                "0.05",
                                "--since",
                                AIR_BEGIN,
                                "--probe",
                                "top",
                                "--in-air",
                                "--yes")),
                err());
        assertTrue(err().startsWith("Step 1 of 3: with the cabinet's heater switched off"), err());
        assertTrue(err().contains("Step 2 of 3: waiting until all have settled"), err());
        assertEquals(-0.31, kept("top").get(0).offset().orElseThrow().value(), 0.03);
        assertEquals(List.of(), kept("middle"));
    }

    @Test
    void aPreviewIsOneObjectAndKeepsNothing() throws IOException {
        assertEquals(
                0,
                command.run(beside("--from", BATH_BEGIN, "--to", BATH_END, "--preview", "--json")),
                err());
        assertTrue(out().startsWith("{\"agent\": \"egg room\", \"cabinet\": \"north\""), out());
        assertTrue(out().contains("\"isKept\": false, \"offsets\": [{\"probe\": \"top\""), out());
        assertEquals(1, out().lines().count());
        assertEquals(List.of(), kept("top"));
    }

    @Test
    void aSurveyTakesTheOffsetInForceAtTheTimeOfItsReadings() throws IOException {
        String[] survey = {
            "evenness", "north", "--from", AIR_BEGIN, "--to", AIR_END, "--without", "pt100"
        };
        assertEquals(1, command.run(survey), err());
        assertTrue(out().contains("  top: never compared (DS18B20, ±0.50 K as bought);"), out());
        assertTrue(gradient() > 0.4, out());
        assertEquals(
                0, command.run(beside("--from", BATH_BEGIN, "--to", BATH_END, "--yes")), err());
        // The same readings: stored as they were, taken with their offsets.
        assertEquals(0, command.run(survey), out() + err());
        assertTrue(gradient() < 0.12, out());
        assertTrue(
                out().contains("side by side (invented Pt100, 17/2030), 2030-03-01 01:00"), out());
        assertEquals(1, command.run(with(survey, "--as-bought")));
        assertTrue(gradient() > 0.4, out());
    }

    private double gradient() {
        Matcher matcher = Pattern.compile("Temperature gradient +([0-9.]+) ±").matcher(out());
        assertTrue(matcher.find(), out());
        return Double.parseDouble(matcher.group(1));
    }

    private static String[] with(String[] some, String more) {
        String[] all = Arrays.copyOf(some, some.length + 1);
        all[some.length] = more;
        return all;
    }

    @Test
    void anExchangedProbeIsAsBoughtAndOneWhoseAgentAddsTheOffsetIsNotCorrectedTwice()
            throws IOException {
        command.run(beside("--from", BATH_BEGIN, "--to", BATH_END, "--yes"));
        String later = "2030-03-01T01:30:00Z";
        assertEquals(0, command.run("probes", "exchanged", "north", "top", "--at", later), err());
        assertEquals("top: exchanged, 2030-03-01 01:30. Kept.\n", out());
        assertEquals(
                0, command.run("probes", "set-at-agent", "north", "middle", "--at", later), err());
        assertTrue(out().startsWith("middle: offset set at its agent (invented Pt100,"), out());
        command.run("evenness", "north", "--from", AIR_BEGIN, "--to", AIR_END);
        assertTrue(out().contains("  top: exchanged 2030-03-01 01:30 and not compared"), out());
        assertTrue(Pattern.compile("  middle: 0\\.00 K ± 0\\.0").matcher(out()).find(), out());
        assertEquals(
                2,
                command.run(
                        "evenness", "north", "--from", BATH_END, "--to", "2030-03-01T03:00:00Z"));
        assertTrue(err().contains("top: exchanged at " + later + ", in the middle"), err());
    }

    @Test
    void theListSaysWhatEachReadingIsGoodForAndWhenACheckIsDue() throws IOException {
        command.run(beside("--from", BATH_BEGIN, "--to", BATH_END, "--yes"));
        assertEquals(0, command.run("probes", "--all"), err());
        assertTrue(
                Pattern.compile("  top: 31\\.\\d\\d °C ± 0\\.\\d\\d K; -0\\.\\d\\d K ± 0\\.0")
                        .matcher(out())
                        .find(),
                out());
        assertTrue(out().contains("next check due 2031-03-01 01:00"), out());
        assertTrue(out().contains("    side by side (invented Pt100, 17/2030), 2030"), out());
        assertTrue(out().contains("never compared (unknown sensor, ±2.00 K as bought)"), out());
        assertEquals(0, command.run("probes", "--json"));
        assertTrue(out().startsWith("{\"probes\": [{\"agent\": \"egg room\""), out());
        assertTrue(out().contains("\"readingExpandedUncertaintyKelvin\": 0."), out());
        assertFalse(out().contains("NaN"));
    }

    @Test
    void badInputSaysWhatIsAllowed() {
        assertEquals(2, command.run(check()));
        assertTrue(err().startsWith("one of --ice, --beside PROBE and --reads CELSIUS"), err());
        assertEquals(2, command.run(check("--reads", "31.5", "--plus-minus", "0.1")));
        assertTrue(err().startsWith("--reference must name what"), err());
        assertEquals(2, command.run(check("--beside", "pt100", "--reference", "Pt100")));
        assertTrue(err().startsWith("--plus-minus must say how good the reference is"), err());
        assertEquals(2, command.run(check("--ice", "--probe", "attic")));
        assertTrue(err().startsWith("PROBE must be one of top, middle, bottom, pt100"), err());
        assertEquals(2, command.run(check("--ice", "--in-air")));
        assertEquals("--ice and --in-air exclude each other", err().strip());
        assertEquals(2, command.run(beside("--from", BATH_BEGIN)));
        assertEquals("--from and --to go together", err().strip());
        assertEquals(2, command.run(beside("--wait", "5")));
        assertEquals("--wait must be 20 to 1440 min but was 5", err().strip());
        assertEquals(2, command.run("probes", "set-at-agent", "north", "top", "--at", BATH_BEGIN));
        assertTrue(err().startsWith("no offset of top is known at that time"), err());
        assertEquals(2, command.run("probes", "--cabinet", "south"));
        assertTrue(err().startsWith("CABINET must be one of egg room/north"), err());
    }

    private String out() {
        return command.out();
    }

    private String err() {
        return command.err();
    }
}
