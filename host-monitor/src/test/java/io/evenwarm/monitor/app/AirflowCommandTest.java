package io.evenwarm.monitor.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.clock.WallClock;
import io.evenwarm.message.AgentName;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.monitor.Journal;
import io.evenwarm.monitor.alarm.AlarmCodes;
import io.evenwarm.monitor.alarm.Fact;
import io.evenwarm.monitor.evenness.Estimate;
import io.evenwarm.monitor.evenness.ProbeEntry;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.store.HistoryStore;
import io.evenwarm.monitor.store.StoreFile;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Sixty days of an invented cabinet, a reading each ten minutes: its fan is sound for twenty, then
 * weakens to 60 % of its flow.
 */
final class AirflowCommandTest {

    private static final int DAYS = 60;
    private static final int SOUND_DAYS = 20;

    private final Path home;
    private final CommandRun command;

    AirflowCommandTest(@TempDir Path home) {
        this.home = home;
        command = new CommandRun(home);
    }

    @BeforeEach
    void store() throws IOException {
        command.settings("C");
        Journal journal = new Journal();
        Random random = new Random(3);
        for (int step = 0; step < DAYS * 144; step++) {
            double day = step / 144.0;
            double flow = 1 - 0.4 * Math.max(0, day - SOUND_DAYS) / (DAYS - SOUND_DAYS);
            double duty = 0.3 + 0.05 * Math.sin(2 * Math.PI * day) + 0.01 * random.nextGaussian();
            double parting = 0.1 + 1.4 * duty / flow + 0.03 * random.nextGaussian();
            journal.readings(
                    600.0 * step,
                    Journal.NORTH,
                    duty,
                    Journal.good("top", ProbePlace.TOP, 31.5 + parting / 2),
                    Journal.good("middle", ProbePlace.MIDDLE, 31.5),
                    Journal.good("bottom", ProbePlace.BOTTOM, 31.5 - parting / 2));
        }
        try (HistoryStore store = HistoryStore.open(command.data())) {
            store.append(new AgentName("egg room"), "journal", journal.take());
        }
    }

    private static String day(int day) {
        return Journal.at(86_400.0 * day).toString();
    }

    @Test
    void aWeakeningFanIsCalledLongBeforeItsEndAndTheDaysSayWhy() {
        assertEquals(1, command.run("airflow", "north"), command.err());
        assertTrue(command.out().startsWith("Air flow of egg room/north, learned from"), out());
        assertTrue(command.out().contains("\nWEAKENING: about 6"), out());
        assertTrue(out().contains(" of the air moves that moved when the cabinet was"), out());
        assertTrue(out().contains("\nday (UTC)   top-bottom  explained     sum   in K"), out());
        assertEquals(0, command.run("airflow", "north", "--to", day(22)), out());
        assertTrue(out().contains("\nSTEADY: about "), out());
        assertTrue(out().contains("\nProbes: none has left its place"), out());
        assertEquals(1, command.run("airflow", "north", "--to", day(10)));
        assertTrue(out().contains("\nNo verdict yet: the cabinet is being learned; "), out());
    }

    private String out() {
        return command.out();
    }

    @Test
    void jsonIsOneObjectAndCsvAndPageHaveEveryDay() throws IOException {
        Path csv = home.resolve("days.csv");
        Path page = home.resolve("page.html");
        assertEquals(
                1,
                command.run(
                        "airflow",
                        "egg room/north",
                        "--json",
                        "--csv",
                        csv.toString(),
                        "--page",
                        page.toString()));
        assertTrue(out().contains("\"airFlow\": {\"state\": \"weakening\", \"since\": \"2030-"));
        assertEquals(1, out().lines().count());
        List<String> lines = Files.readAllLines(csv);
        assertEquals("day,top-minus-bottom-kelvin,explained-kelvin,sum", lines.get(0));
        // Two weeks are learned, and the last day has not ended.
        assertEquals(1 + DAYS - 14 - 1, lines.size());
        String html = Files.readString(page);
        if (System.getProperty("evenness.pages") != null) {
            Files.copy(page, Path.of(System.getProperty("evenness.pages"), "airflow.html"));
        }
        assertTrue(html.contains("<p class=\"verdict fail\">WEAKENING: "), html);
        assertEquals(2, html.split("<svg", -1).length - 1);
        assertFalse(html.contains("http") || html.contains("<script"));
        assertEquals(2, command.run("airflow", "north", "--page", page.toString()));
    }

    @Test
    void aNewFanIsLearnedAnewFromWhenItsKeeperSays() {
        assertEquals(
                0,
                command.run("airflow", "north", "--anew", "new fan", "--at", day(50)),
                command.err());
        assertTrue(out().startsWith("egg room/north is learned anew from 2030-04-20 00:00"), out());
        assertEquals(1, command.run("airflow", "north"));
        assertTrue(out().contains("No verdict yet"), out());
        assertEquals(1, command.run("airflow", "north", "--from", day(0)));
        assertTrue(out().contains("WEAKENING"), "once, by another begin: " + out());
    }

    @Test
    void theMonitorTellsOfItWithItsFiguresAndOfAProbeWhoseCheckIsDue() throws IOException {
        CabinetKey north = new CabinetKey(new AgentName("egg room"), Journal.NORTH);
        new StoreFile(command.data())
                .addProbeEntries(
                        List.of(
                                new ProbeEntry(
                                        north,
                                        new ProbeName("middle"),
                                        Journal.at(86_400),
                                        ProbeEntry.Kind.ICE_POINT,
                                        "melting ice",
                                        Optional.of(new Estimate(0, 0.02, 20)))));
        try (HistoryStore store = HistoryStore.open(command.data())) {
            Instant[] now = {Journal.at(86_400.0 * DAYS)};
            AirWatch watch =
                    new AirWatch(
                            store,
                            new StoreFile(command.data()),
                            new WallClock() {
                                @Override
                                public Instant now() {
                                    return now[0];
                                }

                                @Override
                                public boolean isTrusted() {
                                    return true;
                                }
                            },
                            ZoneOffset.UTC);
            assertEquals(List.of(), watch.get());
            watch.look();
            Fact flow = fact(watch, AlarmCodes.AIR_FLOW_WEAK);
            assertTrue(flow.holds());
            assertTrue(flow.words().evidence().contains(" K further apart than the heat"), "");
            assertEquals("egg room / north air-flow-weak", flow.key().toString());
            assertFalse(fact(watch, AlarmCodes.PROBE_CHECK_DUE).holds());
            assertEquals(
                    3,
                    watch.get().stream()
                            .filter(f -> f.key().code().equals(FindingCode.PROBES_DISAGREE))
                            .count());
            now[0] = Journal.at(86_400.0 * 400);
            watch.look();
            Fact due = fact(watch, AlarmCodes.PROBE_CHECK_DUE);
            assertTrue(due.holds());
            assertEquals(
                    "the last check of middle (2030-03-02 00:00) is more than 365 days ago",
                    due.words().evidence());
            // Another look, another agent's day: what was read is not read again, and stands.
            assertEquals(flow.words(), fact(watch, AlarmCodes.AIR_FLOW_WEAK).words());
            new StoreFile(command.data()).addFlowBegin(north, now[0], "fan");
            watch.look();
            assertFalse(fact(watch, AlarmCodes.AIR_FLOW_WEAK).holds());
            watch.close();
        }
    }

    private static Fact fact(AirWatch watch, FindingCode code) {
        return watch.get().stream()
                .filter(fact -> fact.key().code().equals(code))
                .findFirst()
                .orElseThrow();
    }

    @Test
    void badInputSaysWhatIsAllowed() {
        assertEquals(2, command.run("airflow", "south"));
        assertTrue(command.err().startsWith("CABINET must be one of egg room/north"));
        assertEquals(2, command.run("airflow", "north", "--at", day(2)));
        assertEquals("--at goes with --anew", command.err().strip());
        assertEquals(2, command.run("airflow", "north", "--anew", " "));
        assertTrue(command.err().startsWith("--anew must say why in 1 to 200"), command.err());
        assertEquals(2, command.run("airflow", "north", "--from", day(2), "--to", day(1)));
        assertEquals(
                "--to must be after --from, but " + day(1) + " is not after " + day(2),
                command.err().strip());
    }
}
