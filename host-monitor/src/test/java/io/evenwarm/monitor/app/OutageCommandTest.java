package io.evenwarm.monitor.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.PreviousRun;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.monitor.Journal;
import io.evenwarm.monitor.store.HistoryStore;
import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The commands at a store with some days of an invented cabinet, and a night without power. */
final class OutageCommandTest {

    private static final int CUT_MINUTES = 300;
    private static final int AFTER_MINUTES = 400;

    private final CommandRun command;

    OutageCommandTest(@TempDir Path home) {
        command = new CommandRun(home);
    }

    /** As much of a cabinet as the model has: 4 W/K, 200 W, 20 kJ/K, eggs of 60 kJ/K in 1.5 h. */
    private static final class Invented {
        private static final double STEP = 5;
        private double air = 31;
        private double eggs = 31;
        private double integral = 0.2;
        private double coldest = 31;

        void minute(double duty, double room) {
            for (int step = 0; step < 60 / STEP; step++) {
                double toEggs = 60_000 / 5400.0 * (air - eggs);
                air += (200 * duty - 4 * (air - room) - toEggs) / 20_000 * STEP;
                eggs += toEggs / 60_000 * STEP;
            }
            coldest = Math.min(coldest, eggs);
        }

        double duty(double wish) {
            double wanted = 0.5 * (wish - air) + integral;
            double duty = Math.max(0, Math.min(1, wanted));
            integral += wanted == duty ? 0.002 * (wish - air) : 0;
            return duty;
        }
    }

    /** What wrote down that the power failed. */
    private enum Told {
        ONCE,
        NEVER
    }

    private Invented lived(double days, Told told, boolean hasRoom) throws IOException {
        return lived(days, told, hasRoom, CUT_MINUTES, 0, 0);
    }

    /** Days and a cut; from a minute of the cut to another one there is heat that nobody sees. */
    private Invented lived(
            double days, Told told, boolean hasRoom, int cutMinutes, int heatFrom, int heatTo)
            throws IOException {
        command.settings("C");
        Journal journal = new Journal();
        Invented cabinet = new Invented();
        List<JournalRecord> records = new ArrayList<>();
        int cut = (int) (days * 1440);
        for (int minute = 0; minute < cut + cutMinutes + AFTER_MINUTES; minute++) {
            double room = 20 + 2 * Math.sin(2 * Math.PI * minute / 1440);
            boolean isDark = minute >= cut && minute < cut + cutMinutes;
            boolean isHeated = minute >= cut + heatFrom && minute < cut + heatTo;
            double duty = isDark && !isHeated ? 0 : cabinet.duty(31);
            cabinet.minute(duty, room);
            if (minute == cut + cutMinutes && told == Told.ONCE) {
                JournalRecord.Readings last =
                        (JournalRecord.Readings) records.get(records.size() - 1);
                journal.boot(2, minute * 60.0 - 20);
                journal.readings(minute * 60.0 - 20);
                JournalRecord first = journal.take().get(0);
                records.add(
                        new JournalRecord.Event(
                                first.sequence(),
                                first.moment(),
                                Optional.empty(),
                                JournalRecord.Event.Kind.AGENT_STARTED,
                                Optional.empty(),
                                "agent started",
                                Optional.of(
                                        new PreviousRun(
                                                PreviousRun.Ending.POWER_LOSS,
                                                Optional.of(last.moment())))));
            }
            if (!isDark) {
                if (hasRoom) {
                    journal.readings(
                            minute * 60.0,
                            Journal.NORTH,
                            duty,
                            Journal.good("top", ProbePlace.TOP, cabinet.air),
                            Journal.good("room", ProbePlace.AMBIENT, room));
                } else {
                    journal.readings(
                            minute * 60.0,
                            Journal.NORTH,
                            duty,
                            Journal.good("top", ProbePlace.TOP, cabinet.air));
                }
                records.addAll(journal.take());
            }
        }
        try (HistoryStore store = HistoryStore.open(command.data())) {
            store.append(new AgentName("egg room"), "journal", records);
        }
        return cabinet;
    }

    private double figure(String object, String member) {
        Matcher matcher =
                Pattern.compile("\"" + object + "\": \\{[^}]*\"" + member + "\": ([-0-9.e+]+)")
                        .matcher(command.out());
        assertTrue(matcher.find(), object + " in " + command.out());
        return Double.parseDouble(matcher.group(1));
    }

    @Test
    void aCutIsListedWithWhatWasDarkAndWhy() throws IOException {
        lived(4, Told.ONCE, true);
        assertEquals(0, command.run("outages", "north"), command.err());
        assertTrue(
                command.out().startsWith("north@20300304T2359Z  2030-03-04 23:59:00"),
                command.out());
        assertTrue(command.out().contains("5 h 1 min: mains and agent dark"), command.out());
        assertEquals(1, command.out().lines().count(), command.out());
        assertEquals(0, command.run("outages", "--json"), command.err());
        assertTrue(command.out().contains("\"heat\": \"none\""), command.out());
        assertTrue(command.out().contains("\"latest\": \"2030-03-05T00:00:10Z\""), command.out());
    }

    @Test
    void theReviewHoldsWhatTheEggsTrulyHad() throws IOException {
        Invented cabinet = lived(4, Told.ONCE, true);
        assertEquals(0, command.run("outage", "north@2030-03-05T02:00", "--json"), command.err());
        assertEquals(cabinet.coldest, figure("leastCelsius", "likely"), 0.8, command.out());
        assertTrue(figure("leastCelsius", "low") <= cabinet.coldest, command.out());
        assertTrue(figure("leastCelsius", "high") >= cabinet.coldest, command.out());
        assertTrue(command.out().contains("\"isReconstructed\": true"));
    }

    @Test
    void theFirstLineSaysHowColdForHowLongAndByWhichLimit() throws IOException {
        lived(4, Told.ONCE, true);
        assertEquals(0, command.run("outage", "north"), command.err());
        String first = command.out().lines().findFirst().orElseThrow();
        assertTrue(first.startsWith("The coldest eggs of north got down to 2"), first);
        assertTrue(first.contains(", reconstructed, and were below 30.5 °C"), first);
        assertTrue(first.contains("20.0 °C, the settings' cold limit for eggs."), first);
        assertTrue(command.out().contains("Because     agent not running: the power failed"));
        assertTrue(command.out().contains("none of it was measured"), command.out());
    }

    @Test
    void withoutAProbeInTheRoomTheBandIsWiderAndThatIsSaid() throws IOException {
        Invented cabinet = lived(4, Told.ONCE, false);
        assertEquals(0, command.run("outage", "north", "--json"), command.err());
        assertTrue(command.out().contains("No probe measures the room"), command.out());
        assertTrue(figure("leastCelsius", "low") <= cabinet.coldest, command.out());
        assertTrue(figure("leastCelsius", "high") >= cabinet.coldest, command.out());
    }

    @Test
    void aCutOfWeeksIsNotReconstructedThoughItsEdgesAreTold() throws IOException {
        lived(4, Told.ONCE, false, 28 * 1440, 28 * 1440 - 600, 28 * 1440);
        assertEquals(1, command.run("outage", "north"), command.err());
        String first = command.out().lines().findFirst().orElseThrow();
        assertTrue(
                first.startsWith("What the eggs of north had is not known. It lasted 672 h"),
                first);
        assertTrue(first.contains("up to 18 h only"), first);
        assertTrue(first.contains("A logger of its own among the eggs"), first);
        assertTrue(command.out().contains("Before      measured: air at 31.0 °C"), command.out());
        assertTrue(command.out().contains("Recovery    measured: air at 31."), command.out());
        assertFalse(command.out().contains("Coldest eggs"), command.out());
    }

    @Test
    void aCabinetFoundWarmMayHaveBeenHeatedAndItsBandReachesFromNoHeatToTheBegin()
            throws IOException {
        Invented cabinet = lived(4, Told.ONCE, true, 720, 600, 720);
        assertEquals(1, command.run("outage", "north", "--json"), command.err());
        assertTrue(command.out().contains("may have been heated for some of that time"));
        assertTrue(command.out().contains("\"likely\": null"), command.out());
        assertTrue(figure("leastCelsius", "low") <= cabinet.coldest, command.out());
        assertTrue(figure("leastCelsius", "high") >= 31, command.out());
        assertEquals(1, command.run("outage", "north"), command.err());
        assertTrue(command.out().startsWith("How cold the eggs of north got is not known."));
        assertTrue(command.out().contains("a relay may stick closed"), command.out());
    }

    @Test
    void foundWarmWithoutAProbeInTheRoomTheRoomIsNotMadeAsWarmAsItTakes() throws IOException {
        Invented cabinet = lived(4, Told.ONCE, false, 1000, 880, 1000);
        assertEquals(1, command.run("outage", "north", "--json"), command.err());
        assertTrue(figure("leastCelsius", "low") <= cabinet.coldest, command.out());
        assertTrue(figure("leastCelsius", "high") >= 31, command.out());
    }

    @Test
    void whereNothingSaysThatTheAgentStoppedNothingIsReconstructed() throws IOException {
        lived(4, Told.NEVER, true);
        assertEquals(1, command.run("outage", "north"), command.err());
        assertTrue(command.out().startsWith("What the eggs of north had is not known."));
        assertTrue(command.out().contains("it may have run on and heated"), command.out());
        assertFalse(command.out().contains("Coldest eggs"), command.out());
    }

    @Test
    void aHistoryOfADayGivesNoCurve() throws IOException {
        lived(1, Told.ONCE, true);
        assertEquals(1, command.run("outage", "north"), command.err());
        assertTrue(command.out().contains("takes two days or more"), command.out());
    }

    @Test
    void badInputIsSaid() throws IOException {
        lived(1, Told.ONCE, true);
        assertEquals(2, command.run("outage", "north@noon"));
        assertTrue(
                command.err().contains("EVENT after its @ must be a time such as"), command.err());
        assertEquals(2, command.run("outage", "north@2030-03-01T05:00"));
        assertTrue(command.err().contains("EVENT must be one that evenwarm outages lists"));
        assertEquals(
                2,
                command.run("outages", "--from", "2030-03-02T00:00", "--to", "2030-03-01T00:00"));
        assertTrue(command.err().contains("--to must be after --from"), command.err());
    }
}
