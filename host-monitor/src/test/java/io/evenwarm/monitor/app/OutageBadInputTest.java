package io.evenwarm.monitor.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.monitor.Journal;
import io.evenwarm.monitor.app.LivedHistory.Happens;
import io.evenwarm.monitor.app.LivedHistory.Probe;
import io.evenwarm.monitor.history.Tub;
import io.evenwarm.monitor.store.StoreFile;
import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Outages of which the store tells too little, or something wrong. */
final class OutageBadInputTest {

    private static final int DAYS = 4 * 1440;
    private static final int HALF_MINUTES = 150;
    private static final Pattern LEAST =
            Pattern.compile(
                    "\"leastCelsius\": \\{\"low\": ([-0-9.]+), \"likely\": ([-0-9.nul]+),"
                            + " \"high\": ([-0-9.]+)");

    private final CommandRun command;

    OutageBadInputTest(@TempDir Path home) throws IOException {
        command = new CommandRun(home);
        command.settings("C");
    }

    private LivedHistory cutInWhichTubsCame(double celsius) throws IOException {
        LivedHistory lived = new LivedHistory(Probe.ROOM);
        lived.minutes(DAYS, Happens.LIVES).minutes(HALF_MINUTES, Happens.DARK);
        lived.exchangeEggs(celsius).minutes(HALF_MINUTES, Happens.DARK);
        lived.startsAfterThePowerFailed().minutes(400, Happens.LIVES).store(command.data());
        StoreFile store = new StoreFile(command.data());
        store.addTub(
                new Tub(
                        "fresh",
                        store.history().cabinets().get(0),
                        "top",
                        1000,
                        "12 eggs",
                        Journal.at((DAYS + HALF_MINUTES) * 60.0),
                        Optional.empty()));
        return lived;
    }

    /** Colder than those before them, which had 28.1 °C by then, and warmer. */
    @ParameterizedTest
    @ValueSource(doubles = {25, 31})
    void theBandHoldsTubsThatCameDuringAnOutageAndSaysThatItIsWiderForThem(double celsius)
            throws IOException {
        LivedHistory lived = cutInWhichTubsCame(celsius);
        assertEquals(0, command.run("outage", "north", "--json"), command.err());
        Matcher least = LEAST.matcher(command.out());
        assertTrue(least.find(), "no least value");
        double low = Double.parseDouble(least.group(1));
        double high = Double.parseDouble(least.group(3));
        assertTrue(low <= lived.coldest() && lived.coldest() <= high, low + " to " + high);
        assertTrue(high - low > 7, low + " to " + high);
        assertTrue(command.out().contains("Tubs came or went in this time"), "not said");
    }

    @Test
    void tubsAsColdAsTheRoomGiveNoCurveAndAreNamedAsAReason() throws IOException {
        cutInWhichTubsCame(20);
        assertEquals(1, command.run("outage", "north"), command.err());
        assertTrue(command.out().contains("or the tubs that came in this time were cold"));
        assertFalse(command.out().contains("Coldest eggs"), command.out());
    }

    /** The journal's ring had gone round: the start is kept, the readings after it are not. */
    @Test
    void aJournalThatWasOutrunAfterAStartMayHideHeat() throws IOException {
        LivedHistory lived = new LivedHistory(Probe.ROOM);
        lived.minutes(DAYS, Happens.LIVES).minutes(300, Happens.DARK).startsAfterThePowerFailed();
        // So little that the first reading fits to no heat at all.
        lived.minutes(20, Happens.HEATED_UNREAD).minutes(60, Happens.DARK);
        lived.minutes(400, Happens.LIVES).store(command.data());
        assertEquals(1, command.run("outage", "north"), command.err());
        assertTrue(command.out().startsWith("How cold the eggs of north got is not known."));
        assertTrue(command.out().contains("long before the first reading"), command.out());
        assertTrue(
                command.out().contains("the agent started 80 min before the first reading"),
                command.out());
        assertEquals(1, command.run("outage", "north", "--json"), command.err());
        Matcher least = LEAST.matcher(command.out());
        assertTrue(least.find(), "no least value");
        assertEquals("null", least.group(2));
        assertTrue(Double.parseDouble(least.group(1)) <= lived.coldest());
        assertTrue(Double.parseDouble(least.group(3)) >= lived.coldest());
    }

    /** Before the second cut and after it, s; the true length is 3 h 21 min. */
    @ParameterizedTest
    @CsvSource({"-1200, -1200", "-1200, -3600", "-1200, 1200", "3600, 0", "-10800, -18000"})
    void clocksThatNobodyHadSetGiveNoLengthAndNoCurve(int before, int after) throws IOException {
        LivedHistory lived = new LivedHistory(Probe.ROOM);
        lived.minutes(DAYS, Happens.LIVES).minutes(30, Happens.DARK);
        lived.journal().clockWrongBy(before);
        lived.startsAfterThePowerFailed().minutes(400, Happens.LIVES);
        lived.minutes(200, Happens.DARK).journal().clockWrongBy(after);
        lived.startsAfterThePowerFailed().minutes(400, Happens.LIVES).store(command.data());
        assertEquals(0, command.run("outages", "north"), command.err());
        List<String> events = command.out().lines().map(line -> line.split(" ", -1)[0]).toList();
        assertFalse(events.isEmpty(), "no gap");
        for (String event : events) {
            assertEquals(1, command.run("outage", event), command.out());
            assertTrue(command.out().contains("how long it lasted is not known"), command.out());
            assertTrue(
                    command.out().contains("by the agent's clock, which nobody had set"),
                    command.out());
            assertFalse(command.out().contains("Coldest eggs"), command.out());
            assertEquals(1, command.run("outage", event, "--json"), command.err());
            assertTrue(command.out().contains("\"isClockSet\": false"), command.out());
        }
    }

    @Test
    void aClockThatWasSetLaterIsNoneOfThose() throws IOException {
        LivedHistory lived = new LivedHistory(Probe.ROOM);
        lived.minutes(DAYS, Happens.LIVES).minutes(300, Happens.DARK);
        lived.journal().clockWrongBy(-18_000);
        lived.startsAfterThePowerFailed().minutes(10, Happens.LIVES);
        lived.journal().clockSet();
        lived.minutes(390, Happens.LIVES).store(command.data());
        assertEquals(0, command.run("outage", "north", "--json"), command.err());
        assertFalse(command.out().contains("\"isClockSet\": false"), command.out());
        Matcher least = LEAST.matcher(command.out());
        assertTrue(least.find(), "no least value");
        assertEquals(lived.coldest(), Double.parseDouble(least.group(2)), 0.8);
    }
}
