package io.evenwarm.monitor.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.monitor.app.LivedHistory.Happens;
import java.io.IOException;
import java.nio.file.Path;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The commands at a store with some days of an invented cabinet, and a night without power. */
final class OutageCommandTest {

    private static final int CUT_MINUTES = 300;

    private final CommandRun command;

    OutageCommandTest(@TempDir Path home) {
        command = new CommandRun(home);
    }

    /** What wrote down that the power failed. */
    private enum Told {
        ONCE,
        NEVER
    }

    private LivedHistory lived(double days, Told told, boolean hasRoom) throws IOException {
        return lived(days, told, hasRoom, CUT_MINUTES, 0, 0);
    }

    /** Days and a cut; from a minute of the cut to another one there is heat that nobody sees. */
    private LivedHistory lived(
            double days, Told told, boolean hasRoom, int cutMinutes, int heatFrom, int heatTo)
            throws IOException {
        LivedHistory lived =
                hasRoom ? new LivedHistory(LivedHistory.Probe.ROOM) : new LivedHistory();
        lived.minutes((int) (days * 1440), Happens.LIVES);
        lived.minutes(heatFrom, Happens.DARK).minutes(heatTo - heatFrom, Happens.HEATED_UNREAD);
        lived.minutes(cutMinutes - heatTo, Happens.DARK);
        if (told == Told.ONCE) {
            lived.startsAfterThePowerFailed();
        }
        return stored(lived.minutes(400, Happens.LIVES));
    }

    private LivedHistory stored(LivedHistory lived) throws IOException {
        command.settings("C");
        lived.store(command.data());
        return lived;
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
        LivedHistory cabinet = lived(4, Told.ONCE, true);
        assertEquals(0, command.run("outage", "north@2030-03-05T02:00", "--json"), command.err());
        assertEquals(cabinet.coldest(), figure("leastCelsius", "likely"), 0.8, command.out());
        assertTrue(figure("leastCelsius", "low") <= cabinet.coldest(), command.out());
        assertTrue(figure("leastCelsius", "high") >= cabinet.coldest(), command.out());
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
        LivedHistory cabinet = lived(4, Told.ONCE, false);
        assertEquals(0, command.run("outage", "north", "--json"), command.err());
        assertTrue(command.out().contains("No probe measures the room"), command.out());
        assertTrue(figure("leastCelsius", "low") <= cabinet.coldest(), command.out());
        assertTrue(figure("leastCelsius", "high") >= cabinet.coldest(), command.out());
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
        LivedHistory cabinet = lived(4, Told.ONCE, true, 720, 600, 720);
        assertEquals(1, command.run("outage", "north", "--json"), command.err());
        assertTrue(command.out().contains("may have been heated for some of that time"));
        assertTrue(command.out().contains("\"likely\": null"), command.out());
        assertTrue(figure("leastCelsius", "low") <= cabinet.coldest(), command.out());
        assertTrue(figure("leastCelsius", "high") >= 31, command.out());
        assertEquals(1, command.run("outage", "north"), command.err());
        assertTrue(command.out().startsWith("How cold the eggs of north got is not known."));
        assertTrue(command.out().contains("a relay may stick closed"), command.out());
    }

    @Test
    void foundWarmWithoutAProbeInTheRoomTheRoomIsNotMadeAsWarmAsItTakes() throws IOException {
        LivedHistory cabinet = lived(4, Told.ONCE, false, 1000, 880, 1000);
        assertEquals(1, command.run("outage", "north", "--json"), command.err());
        assertTrue(figure("leastCelsius", "low") <= cabinet.coldest(), command.out());
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
