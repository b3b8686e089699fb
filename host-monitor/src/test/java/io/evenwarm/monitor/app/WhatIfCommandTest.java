package io.evenwarm.monitor.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The command at a store with four days of an invented cabinet that is colder at night. */
final class WhatIfCommandTest {

    private static final int DAYS = 4;

    private final CommandRun command;

    WhatIfCommandTest(@TempDir Path home) {
        command = new CommandRun(home);
    }

    private LivedCabinet lived(double days) throws IOException {
        command.settings("C");
        return LivedCabinet.lived(command.data(), days);
    }

    private double figure(String object, String member) {
        Matcher matcher =
                Pattern.compile("\"" + object + "\": \\{[^}]*\"" + member + "\": ([-0-9.e+]+)")
                        .matcher(command.out());
        assertTrue(matcher.find(), object + " in " + command.out());
        return Double.parseDouble(matcher.group(1));
    }

    @Test
    void whatIsForetoldIsWhatTheCabinetThenDoes() throws IOException {
        LivedCabinet cabinet = lived(DAYS);
        assertEquals(
                0,
                command.run(
                        "what-if",
                        "north",
                        "--heating",
                        "off",
                        "--fan",
                        "on",
                        "--ambient",
                        "15",
                        "--for",
                        "3h",
                        "--json"),
                command.err());
        for (int minute = 0; minute < 180; minute++) {
            cabinet.minute(0, 15);
        }
        assertEquals(cabinet.eggs, figure("coldestEggsCelsius", "likely"), 0.6, command.out());
        assertTrue(figure("coldestEggsCelsius", "low") <= cabinet.eggs, command.out());
        assertFalse(command.out().strip().contains("\n"));
        // 4 W/K over 200 W.
        assertEquals(0.02, figure("lossPerPower", "value"), 0.001, command.out());
        assertEquals(5400, figure("eggTimeConstantSeconds", "value"), 5400 * 0.2, command.out());
        assertTrue(command.out().contains("\"lossWattsPerKelvin\": {\"notKnown\": "));
    }

    @Test
    void wordsSayThatItIsForetoldAndWhatIsNotKnown() throws IOException {
        lived(DAYS);
        assertEquals(0, command.run("what-if", "north", "--heating", "stuck"), command.err());
        assertTrue(command.out().startsWith("Cabinet north of egg room, 6.0 h after 2030-03-0"));
        assertTrue(command.out().contains("Foretold by a model, not measured"), command.out());
        assertTrue(command.out().contains("Would tell: a meter's figure"), command.out());
        assertTrue(command.out().contains("\nWarmest eggs at 34."), command.out());
        assertTrue(command.out().contains("\nThe model foretold the air of 1 days"), command.out());
    }

    @Test
    void aBatteryOfSoManyWattHoursHoldsForAsLongAsTheCabinetsHeatTakesThem() throws IOException {
        lived(DAYS);
        assertEquals(
                0,
                command.run(
                        "what-if",
                        "north",
                        "--heating",
                        "off",
                        "--ambient",
                        "6.5",
                        "--battery",
                        "300Wh",
                        "--watts",
                        "200",
                        "--watts-beside",
                        "20",
                        "--json"),
                command.err());
        // 4 W/K and 25 K are 100 W, and 20 W beside: 2.5 h, a little less by the unsure loss.
        Matcher matcher = Pattern.compile("\"batterySeconds\": (\\d+)").matcher(command.out());
        assertTrue(matcher.find(), command.out());
        assertEquals(2.5 * 3600, Double.parseDouble(matcher.group(1)), 800, command.out());
        assertTrue(Double.parseDouble(matcher.group(1)) < 2.5 * 3600, "rather less than more");
        assertEquals(2, command.run("what-if", "north", "--heating", "off", "--battery", "300Wh"));
        assertTrue(command.err().contains("needs --watts"), command.err());
        assertEquals(2, command.run("what-if", "north", "--heating", "off", "--battery", "3"));
        assertTrue(command.err().contains("or a charge such as 300Wh"), command.err());
    }

    @Test
    void aHistoryOfADayGivesNoAnswerRatherThanAGuess() throws IOException {
        lived(1);
        assertEquals(1, command.run("what-if", "north", "--heating", "off"));
        assertTrue(command.err().contains("it takes two days or more"), command.err());
        assertEquals("", command.out());
    }

    @Test
    void badInputIsSaidAndNothingIsForetold() throws IOException {
        lived(1);
        assertEquals(2, command.run("what-if", "north", "--heating", "off", "--for", "6"));
        assertTrue(command.err().contains("--for must be a time such as 6h"), command.err());
        assertEquals(2, command.run("what-if", "north", "--heating", "off", "--for", "99h"));
        assertTrue(command.err().contains("at most 72h"), command.err());
        assertEquals(2, command.run("what-if", "south", "--heating", "off"));
        assertTrue(command.err().contains("CABINET must be one of"), command.err());
        assertEquals(2, command.run("what-if", "north", "--heating", "off", "--ambient", "99"));
        assertTrue(command.err().contains("the room must be -40 to 60"), command.err());
    }
}
