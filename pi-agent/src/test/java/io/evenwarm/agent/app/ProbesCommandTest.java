package io.evenwarm.agent.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.driver.sysfs.OneWireText;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.concurrent.TimeUnit;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** As a keeper uses it, on files as the kernel makes them. */
final class ProbesCommandTest {

    private static final String FIRST = "28-0000072431ab";
    private static final String SECOND = "28-0000072431ac";
    private static final String THIRD = "28-0000072431ad";
    private static final String CONFIGURATION =
            """
            # My two cabinets.
            [agent]
            name = "egg room"   # upstairs

            [sensors]
            one_wire_folder = "w1"
            hwmon_folder = "hwmon"
            iio_folder = "iio"

            [[cabinet]]
            name = "north"
            set_point_celsius = 31.5

              [[cabinet.probe]]
              name = "top"  # above the uppermost shelf
              position = "top"
              driver = "one-wire"
              address = "28-0000072431ab" # red tape

              # The relay in the left box.
              [cabinet.heater]
              driver = "led"
              line = "heater-north"

              [cabinet.cut_off_relay]
              driver = "led"
              line = "cut-off-north"

            [[cabinet]]
            name = "south"
            set_point_celsius = 30

              [cabinet.heater]
              driver = "led"
              line = "heater-south"
            """;

    /** With a second probe in the air of north, that steers whatever becomes of the first. */
    private static final String WITH_SHELF =
            CONFIGURATION.replace(
                    "# red tape\n",
                    """
                    # red tape

                      [[cabinet.probe]]
                      name = "shelf"
                      position = "lower shelf"
                      driver = "one-wire"
                      address = "28-0000072431ad"
                    """);

    @TempDir Path folder;
    private Path config = Path.of("");
    private String out = "";
    private String err = "";

    @BeforeEach
    void makeFiles() throws IOException {
        config = Files.writeString(folder.resolve("agent.toml"), CONFIGURATION);
        for (String address : new String[] {FIRST, SECOND, THIRD}) {
            show(address, 22.5);
        }
    }

    /** As whole as the kernel's own file. */
    private void show(String address, double celsius) throws IOException {
        Path device = Files.createDirectories(folder.resolve("w1").resolve(address));
        Path next = Files.writeString(device.resolve("next"), OneWireText.good(celsius));
        Files.move(next, device.resolve("w1_slave"), StandardCopyOption.ATOMIC_MOVE);
    }

    private int probes(String... options) {
        String[] arguments = new String[options.length + 3];
        arguments[0] = "probes";
        arguments[1] = "--config";
        arguments[2] = config.toString();
        System.arraycopy(options, 0, arguments, 3, options.length);
        StringWriter outText = new StringWriter();
        StringWriter errText = new StringWriter();
        int code = AgentMain.execute(new PrintWriter(outText), new PrintWriter(errText), arguments);
        out = outText.toString();
        err = errText.toString();
        assertFalse((out + err).contains("\tat "), () -> "a stack trace: " + out + err);
        return code;
    }

    private String text() throws IOException {
        return Files.readString(config);
    }

    @Test
    void aloneItListsEveryProbeWithItsValueAndItsUserThoughTheFileHasFaults() throws IOException {
        assertEquals(ExitCode.DONE, probes(), () -> err);
        assertEquals(
                """
                one-wire 28-0000072431ab  22.50 °C  north / top
                one-wire 28-0000072431ac  22.50 °C  in no cabinet
                one-wire 28-0000072431ad  22.50 °C  in no cabinet
                """,
                out);
        assertEquals(CONFIGURATION, text());

        assertEquals(ExitCode.DONE, probes("--json"));
        assertTrue(
                out.contains(
                        "{\"driver\":\"one-wire\",\"address\":\"28-0000072431ab\",\"cabinet\":"
                                + "\"north\",\"probe\":\"top\",\"celsius\":22.5,\"trouble\":null}"),
                out);
    }

    /** One probe warms by a hand, one by the sun through the window, but less. */
    @Test
    void theWarmedProbeIsNamedAndAddedWithItsRoleAndEveryCommentStays() throws Exception {
        Thread hand =
                new Thread(
                        () -> {
                            try {
                                for (int i = 1; i <= 40; i++) {
                                    show(THIRD, 22.5 + i * 0.125);
                                    show(FIRST, 22.5 + i * 0.03125);
                                    TimeUnit.MILLISECONDS.sleep(100);
                                }
                            } catch (IOException | InterruptedException e) {
                                Thread.currentThread().interrupt();
                            }
                        });
        hand.start();
        int code = probes("--warm", "--seconds", "30", "--cabinet", "north", "--role", "bottom");
        hand.join();

        assertEquals(ExitCode.DONE, code, () -> err);
        assertTrue(err.contains("Take one probe in your hand"), err);
        assertTrue(out.contains("it is one-wire " + THIRD + ", in no cabinet"), out);
        assertTrue(out.contains("probe bottom of north was added as bottom"), out);
        assertEquals(
                CONFIGURATION.replace(
                        "# red tape\n",
                        """
                        # red tape

                          [[cabinet.probe]]
                          name = "bottom"
                          position = "bottom"
                          driver = "one-wire"
                          address = "28-0000072431ad"
                        """),
                text());
        assertEquals(CONFIGURATION, Files.readString(folder.resolve("agent.toml.backup")));
    }

    @Test
    void whenNothingRisesTheAnswerIsNoAndNothingIsWritten() throws IOException {
        assertEquals(
                ExitCode.NO,
                probes("--warm", "--seconds", "1", "--cabinet", "north", "--role", "tub"));
        assertTrue(err.contains("in 1 s none of 3 thermometers rose by 1.0 K"), err);
        assertEquals(CONFIGURATION, text());
    }

    @Test
    void aRoleThatIsTakenIsOnlyChangedWhenOneSaysSo() throws IOException {
        String[] wish = {"--address", SECOND, "--cabinet", "north", "--role", "top"};
        assertEquals(ExitCode.NO, probes(wish));
        assertTrue(err.contains("probe top is that already, at " + FIRST), err);
        assertTrue(err.contains("say --replace"), err);
        assertEquals(CONFIGURATION, text());
        assertTrue(Files.notExists(folder.resolve("agent.toml.backup")));

        assertEquals(
                ExitCode.DONE,
                probes(wish[0], wish[1], wish[2], wish[3], wish[4], wish[5], "--replace"));
        assertEquals(CONFIGURATION.replace(FIRST, SECOND), text());
    }

    @Test
    void everyRoleCanBeGivenToAProbeThatIsThereAndToANewOne() throws IOException {
        String[][] roles = {
            {"control", "control", "false"},
            {"guard", "top", "true"},
            {"top", "top", "false"},
            {"middle", "middle", "false"},
            {"bottom", "bottom", "false"},
            {"tub", "tub", "false"},
            {"room", "ambient", "false"},
        };
        for (String[] role : roles) {
            makeFiles();
            assertEquals(
                    ExitCode.DONE,
                    probes("--address", SECOND, "--cabinet", "south", "--role", role[0]),
                    () -> err);
            Matcher added =
                    Pattern.compile(
                                    "set_point_celsius = 30\n\n  \\[\\[cabinet.probe]]\n  name = \""
                                            + role[0]
                                            + "\"\n  position = \"(\\w+)\"\n"
                                            + "  driver = \"one-wire\"\n  address = \""
                                            + SECOND
                                            + "\"\n(  guard = true\n)?\n  \\[cabinet.heater]")
                            .matcher(text());
            assertTrue(added.find(), this::readBack);
            assertEquals(role[1], added.group(1));
            assertEquals(role[2].equals("true"), added.group(2) != null);

            Files.writeString(config, WITH_SHELF);
            int code =
                    probes(
                            "--address",
                            FIRST,
                            "--cabinet",
                            "north",
                            "--role",
                            role[0],
                            "--replace");
            assertEquals(ExitCode.DONE, code, () -> err);
            assertTrue(
                    text().contains("name = \"top\"  # above the uppermost shelf\n")
                            && text().contains("position = \"" + role[1] + "\"\n"),
                    this::readBack);
            assertEquals(role[2].equals("true"), text().contains("guard = true\n"), role[0]);
        }
    }

    private String readBack() {
        try {
            return text();
        } catch (IOException e) {
            return e.toString();
        }
    }

    @Test
    void aGuardsOwnProbeThatIsGivenAnotherRoleIsNoGuardAnyMore() throws IOException {
        Files.writeString(config, WITH_SHELF);
        probes("--address", FIRST, "--cabinet", "north", "--role", "guard", "--replace");
        assertTrue(text().contains("guard = true"), text());
        probes("--address", FIRST, "--cabinet", "north", "--role", "middle", "--replace");
        assertTrue(text().contains("  guard = false\n"), text());
        assertTrue(text().contains("  position = \"middle\"\n"), text());
    }

    @Test
    void aProbeOfAnotherCabinetAndAnUnknownCabinetAreRefusedInWords() {
        assertEquals(
                ExitCode.NO,
                probes("--address", FIRST, "--cabinet", "south", "--role", "top", "--replace"));
        assertTrue(err.contains("is a probe of cabinet \"north\": take it out"), err);
        assertEquals(
                ExitCode.NO, probes("--address", SECOND, "--cabinet", "west", "--role", "top"));
        assertTrue(err.contains("has no cabinet \"west\"; it has north, south"), err);
        assertEquals(
                ExitCode.NO,
                probes("--address", "28-000000000000", "--cabinet", "a", "--role", "top"));
        assertTrue(err.contains("no probe is at 28-000000000000"), err);
    }

    @Test
    void whatWouldMakeTheFileFaultyIsNotWritten() throws IOException {
        assertEquals(
                ExitCode.NO,
                probes("--address", FIRST, "--cabinet", "north", "--role", "guard", "--replace"));
        assertTrue(err.contains("no thermometer in the air that control may use"), err);
        assertEquals(
                ExitCode.NO,
                probes(
                        "--address",
                        SECOND,
                        "--cabinet",
                        "north",
                        "--role",
                        "tub",
                        "--name",
                        "a/b"));
        assertTrue(err.contains("would make"), err);
        assertTrue(err.contains("1 to 64 letters"), err);
        assertEquals(CONFIGURATION, text());
    }

    @Test
    void aLineInAnotherFormIsLeftToThePerson() throws IOException {
        Files.writeString(
                config,
                CONFIGURATION
                        .replace("address = \"28-", "address = \"\"\"28-")
                        .replace("ab\" #", "ab\"\"\" #"));
        assertEquals(
                ExitCode.NO,
                probes("--address", SECOND, "--cabinet", "north", "--role", "top", "--replace"));
        assertTrue(err.contains("line 18: address is written in a way"), err);
    }

    @Test
    void optionsThatDoNotFitEachOtherAreBadInput() {
        assertEquals(ExitCode.BAD_INPUT, probes("--role", "lid", "--cabinet", "north", "--warm"));
        assertTrue(err.contains("control, guard, top, middle, bottom, tub, room"), err);
        assertEquals(ExitCode.BAD_INPUT, probes("--role", "top"));
        assertEquals(ExitCode.BAD_INPUT, probes("--role", "top", "--cabinet", "north"));
        assertEquals(ExitCode.BAD_INPUT, probes("--warm", "--address", FIRST));
        assertEquals(ExitCode.BAD_INPUT, probes("--warm", "--seconds", "0"));
        assertEquals(ExitCode.BAD_INPUT, probes("--warm", "--rise", "nan"));
    }

    @Test
    void lineEndsOfAnotherSystemStay() throws IOException {
        Files.writeString(config, CONFIGURATION.replace("\n", "\r\n"));
        assertEquals(
                ExitCode.DONE, probes("--address", SECOND, "--cabinet", "north", "--role", "tub"));
        assertFalse(Pattern.compile("[^\r]\n").matcher(text()).find(), text());
        assertTrue(text().contains("  name = \"tub\"\r\n"), text());
    }
}
