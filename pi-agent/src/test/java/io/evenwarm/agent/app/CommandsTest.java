package io.evenwarm.agent.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * The command line: exit codes, what goes to which stream, and that no stack trace reaches anyone.
 */
final class CommandsTest {

    private static final String CABINET =
            """
            [agent]
            name = "egg room"
            state_folder = "state"
            [sensors]
            led_folder = "leds"
            [[cabinet]]
            name = "north"
            set_point_celsius = 31.5
              [[cabinet.probe]]
              name = "top"
              position = "top"
              driver = "one-wire"
              address = "28-0000072431ab"
              [cabinet.heater]
              driver = "led"
              line = "heater"
              [cabinet.cut_off_relay]
              driver = "led"
              line = "cut-off"
            """;

    @TempDir Path folder;
    private Path config;
    private String out = "";
    private String err = "";

    @BeforeEach
    void makeConfiguration() throws IOException {
        config = Files.writeString(folder.resolve("agent.toml"), CABINET);
        for (String line : List.of("heater", "cut-off")) {
            Path led = Files.createDirectories(folder.resolve("leds").resolve(line));
            Files.writeString(led.resolve("brightness"), "1\n");
        }
    }

    private int execute(String... arguments) {
        StringWriter outText = new StringWriter();
        StringWriter errText = new StringWriter();
        int code = AgentMain.execute(new PrintWriter(outText), new PrintWriter(errText), arguments);
        out = outText.toString();
        err = errText.toString();
        assertFalse((out + err).contains("\tat "), () -> "a stack trace: " + out + err);
        return code;
    }

    private String level(String line) throws IOException {
        return Files.readString(folder.resolve("leds").resolve(line).resolve("brightness"));
    }

    @Test
    void withoutACommandTheUsageIsBadInput() {
        assertEquals(ExitCode.BAD_INPUT, execute());
        assertTrue(err.contains("which command?") && err.contains("outputs-off"), err);
        assertEquals("", out);
    }

    @Test
    void helpAndVersionAreAnsweredEverywhere() {
        for (String[] arguments :
                List.of(
                        new String[] {"--help"},
                        new String[] {"--version"},
                        new String[] {"run", "--help"},
                        new String[] {"check", "--version"})) {
            assertEquals(ExitCode.DONE, execute(arguments), String.join(" ", arguments));
            assertFalse(out.isEmpty());
            assertEquals("", err);
        }
    }

    @Test
    void anUnknownOptionOrCommandIsBadInput() {
        assertEquals(ExitCode.BAD_INPUT, execute("chekc"));
        assertEquals(ExitCode.BAD_INPUT, execute("check", "--confg", "x"));
        assertEquals(ExitCode.BAD_INPUT, execute("check"));
        assertTrue(err.contains("--config"), err);
    }

    @Test
    void checkAnswersWithWarningsAndASummary() {
        assertEquals(ExitCode.DONE, execute("check", "--config", config.toString()));
        assertTrue(
                out.endsWith(
                        "can be run: agent \"egg room\", 1 cabinet, 1 probe, 2 warnings"
                                + System.lineSeparator()),
                out);
        assertEquals("", err);
    }

    @Test
    void checkNamesFaultsAndPrintsOneObjectWithJson() throws IOException {
        Files.writeString(config, CABINET.replace("31.5", "99"));

        assertEquals(ExitCode.BAD_INPUT, execute("check", "--config", config.toString()));
        assertTrue(out.contains("agent.toml, line 8: cabinet \"north\" / set_point_celsius"), out);
        assertTrue(out.contains("can't be run: 1 error, 2 warnings"), out);

        assertEquals(ExitCode.BAD_INPUT, execute("check", "--json", "--config", config.toString()));
        assertEquals(1, out.lines().count());
        assertTrue(out.startsWith("{\"file\":") && out.contains("\"canRun\":false"), out);
        assertTrue(out.contains("\"line\":8"), out);
    }

    @Test
    void aFileThatIsNotThereIsBadInput() {
        assertEquals(ExitCode.BAD_INPUT, execute("check", "--config", "absent.toml"));
        assertTrue(out.contains("no such file"), out);
        assertEquals(ExitCode.BAD_INPUT, execute("run", "--config", "absent.toml"));
        assertTrue(err.contains("OUTPUTS MAY BE ON"), err);
        assertEquals(ExitCode.BAD_INPUT, execute("outputs-off", "--config", "absent.toml"));
        assertTrue(err.contains("OUTPUTS MAY BE ON"), err);
    }

    @Test
    void outputsOffDrivesEveryLineOff() throws IOException {
        assertEquals(ExitCode.DONE, execute("outputs-off", "--config", config.toString()));

        assertEquals("0\n", level("heater"));
        assertEquals("0\n", level("cut-off"));
        assertEquals(List.of("heater is off", "cut-off is off"), out.lines().toList());
    }

    @Test
    void outputsOffWorksWithAFaultyConfigurationToo() throws IOException {
        Files.writeString(config, CABINET.replace("31.5", "\"warm\"").replace("[agent]", "[agnt]"));

        assertEquals(
                ExitCode.DONE, execute("outputs-off", "--json", "--config", config.toString()));

        assertEquals("0\n", level("heater"));
        assertEquals(
                "{\"allOff\":true,\"lines\":[{\"line\":\"heater\",\"off\":true,\"failure\":null},"
                        + "{\"line\":\"cut-off\",\"off\":true,\"failure\":null}]}",
                out.strip());
    }

    @Test
    void aLineThatCannotBeDrivenOffIsNamedAndTheOthersGoOffAllTheSame() throws IOException {
        Files.delete(folder.resolve("leds/heater/brightness"));

        assertEquals(ExitCode.NO, execute("outputs-off", "--config", config.toString()));

        assertEquals("0\n", level("cut-off"));
        assertTrue(err.contains("heater MAY BE ON: "), err);
    }

    @Test
    void runWithAFaultyConfigurationRunsNothingAndDrivesItsLinesOff() throws IOException {
        Files.writeString(config, CABINET.replace("31.5", "99"));

        assertEquals(ExitCode.BAD_INPUT, execute("run", "--config", config.toString()));

        assertEquals("0\n", level("heater"));
        assertTrue(err.contains("nothing is run"), err);
        assertTrue(err.contains("found 99; allowed: a number from 10 to 43 °C"), err);
        assertFalse(Files.exists(folder.resolve("state")));
    }

    /**
     * This machine has no such line, or something else holds it; the others go off all the same.
     */
    @Test
    void aGpioLineThatCannotBeHadIsNamedAndKeepsNoOtherOn() throws IOException {
        Files.writeString(
                config,
                CABINET.replace(
                        "driver = \"led\"\n  line = \"heater\"",
                        "driver = \"gpio\"\n  line = \"GPIO23\""));

        int code = execute("outputs-off", "--config", config.toString());

        if (Files.notExists(Path.of("/proc/device-tree/model"))) {
            assertEquals(ExitCode.NO, code);
            assertTrue(err.contains("GPIO23 MAY BE ON: GPIO23 could not be driven off"), err);
        }
        assertEquals("0\n", level("cut-off"));
        assertTrue(out.contains("cut-off is off"), out);
    }
}
