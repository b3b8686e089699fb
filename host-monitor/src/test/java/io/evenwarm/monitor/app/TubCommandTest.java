package io.evenwarm.monitor.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.CabinetName;
import io.evenwarm.monitor.Journal;
import io.evenwarm.monitor.app.LivedHistory.Happens;
import io.evenwarm.monitor.app.LivedHistory.Probe;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.Tub;
import io.evenwarm.monitor.store.StoreFile;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A tub's whole exposure: every hour is estimated, reconstructed or not known, and said so. */
final class TubCommandTest {

    private static final CabinetKey NORTH =
            new CabinetKey(LivedHistory.AGENT, new CabinetName("north"));

    /** The tub went in on the second day. */
    private static final Instant IN = Journal.at(2 * 86_400);

    private final Path home;
    private final CommandRun command;

    TubCommandTest(@TempDir Path home) throws IOException {
        this.home = home;
        command = new CommandRun(home);
        command.settings("C");
    }

    private LivedHistory lived() throws IOException {
        LivedHistory lived = new LivedHistory(Probe.BOTTOM, Probe.ROOM).cut(5, 300);
        lived.store(command.data());
        new StoreFile(command.data()).addTub(tub("A1", "bottom", IN, Optional.empty()));
        return lived;
    }

    private static Tub tub(String name, String shelf, Instant from, Optional<Instant> to) {
        return new Tub(name, NORTH, shelf, 1500, "12 invented eggs", from, to);
    }

    private double number(String name) {
        Matcher matcher = Pattern.compile("\"" + name + "\": ([-0-9.e+]+)").matcher(command.out());
        assertTrue(matcher.find(), name + " in " + command.out());
        return Double.parseDouble(matcher.group(1));
    }

    @Test
    void hoursOfAGapAreCountedApartAndAllHoursAreThere() throws IOException {
        LivedHistory lived = lived();
        assertEquals(0, command.run("tub", "A1", "--json"), command.err());
        double estimated = number("estimatedHours");
        double reconstructed = number("reconstructedHours");
        double unknown = number("unknownHours");
        assertEquals(5.0, reconstructed, 0.1, "the night without power");
        // Three days and 400 min were read; after the gap the estimate waits for its readings.
        assertEquals(72 + 400 / 60.0, estimated + unknown, 0.3);
        assertTrue(unknown < 7, command.out());
        Matcher least =
                Pattern.compile("\"leastCelsius\": \\{\"low\": ([-0-9.]+), .*?\"high\": ([-0-9.]+)")
                        .matcher(command.out());
        assertTrue(least.find(), command.out());
        assertTrue(Double.parseDouble(least.group(1)) <= lived.coldest(), command.out());
        assertTrue(Double.parseDouble(least.group(2)) >= lived.coldest(), command.out());
        double bins = 0;
        Matcher bin =
                Pattern.compile(
                                "\"fromCelsius\": [-0-9.]+, \"estimatedHours\": ([0-9.]+),"
                                        + " \"reconstructedHours\": ([0-9.]+)")
                        .matcher(command.out());
        while (bin.find()) {
            bins += Double.parseDouble(bin.group(1)) + Double.parseDouble(bin.group(2));
        }
        assertEquals(estimated + reconstructed, bins, 0.05, "the histogram has each known hour");
        assertTrue(command.out().contains("\"event\": \"north@"), command.out());
    }

    @Test
    void thePageHatchesWhatIsReconstructedAndStandsAlone() throws IOException {
        lived();
        Path page = home.resolve("tub.html");
        assertEquals(0, command.run("tub", "A1", "--page", page.toString()), command.err());
        String html = Files.readString(page);
        if (System.getProperty("outage.pages") != null) {
            Files.copy(page, Path.of(System.getProperty("outage.pages"), "tub.html"));
        }
        assertFalse(html.contains("http") || html.contains("<script"));
        assertTrue(html.contains(">reconstructed, no readings</text>"));
        assertTrue(html.contains("mains and agent dark"), "each event stands there");
        assertTrue(command.out().contains("none of it was measured"), command.out());
    }

    @Test
    void aTubThatIsGoneIsFollowedUntilItWentAndOneThatMovedOverBothPlaces() throws IOException {
        lived();
        StoreFile outside = new StoreFile(command.data());
        outside.addTub(tub("B2", "bottom", IN, Optional.empty()));
        outside.endTub("B2", IN.plusSeconds(86_400));
        assertEquals(0, command.run("tub", "B2", "--json"), command.err());
        // Right after tubs came or went nobody knows the eggs.
        assertEquals(24, number("estimatedHours") + number("unknownHours"), 0.1);
        assertTrue(number("estimatedHours") > 23, command.out());
        assertEquals(0, number("reconstructedHours"));
        outside.addTub(tub("B2", "top", IN.plusSeconds(86_700), Optional.empty()));
        assertEquals(0, command.run("tub", "B2"), command.err());
        assertEquals(
                2,
                command.out().lines().filter(line -> line.startsWith("Stood ")).count(),
                command.out());
    }

    @Test
    void withoutEnoughHistoryNothingIsClaimed() throws IOException {
        new LivedHistory(Probe.ROOM).minutes(600, Happens.LIVES).store(command.data());
        new StoreFile(command.data()).addTub(tub("A1", "top", Journal.EPOCH, Optional.empty()));
        assertEquals(1, command.run("tub", "A1"), command.err());
        assertTrue(command.out().startsWith("What the eggs of tub A1 had is not known."));
        assertTrue(command.out().contains("takes two days or more"), command.out());
    }

    @Test
    void badInputIsSaid() throws IOException {
        lived();
        assertEquals(2, command.run("tub", "Z9"));
        assertTrue(command.err().contains("TUB must be one of [A1], but was \"Z9\""));
    }
}
