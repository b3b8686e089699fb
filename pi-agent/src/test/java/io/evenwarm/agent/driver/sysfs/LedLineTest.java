package io.evenwarm.agent.driver.sysfs;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.port.OutputException;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Linux kernel, Documentation/leds/leds-class.rst. */
final class LedLineTest {

    @TempDir Path leds;
    private Path folder;

    @BeforeEach
    void makeLine() throws IOException {
        folder = Files.createDirectory(leds.resolve("heater-north"));
        Files.writeString(folder.resolve("brightness"), "0\n");
    }

    private LedLine line() {
        return new LedLine(leds, "heater-north");
    }

    private String level() throws IOException {
        return Files.readString(folder.resolve("brightness"));
    }

    @Test
    void drivesTheLevelOnAndOff() throws IOException {
        try (LedLine line = line()) {
            line.drive(true);
            assertEquals("1\n", level());
            line.drive(false);
            assertEquals("0\n", level());
            line.drive(true);
        }
        assertEquals("0\n", level(), "closing drives off");
    }

    @Test
    void takesTheTriggerOffBeforeItDrives() throws IOException {
        Files.writeString(folder.resolve("trigger"), "none [heartbeat] timer\n");

        line().drive(true);

        assertTrue(Files.readString(folder.resolve("trigger")).startsWith("none\n"));
    }

    @Test
    void withATriggerThatStaysTheLineGoesOffButNotOn() throws IOException {
        Files.createDirectory(folder.resolve("trigger"));
        Files.writeString(folder.resolve("brightness"), "1\n");

        OutputException refused = assertThrows(OutputException.class, () -> line().drive(true));
        assertTrue(String.valueOf(refused.getMessage()).contains("trigger"), refused::toString);
        line().drive(false);
        assertEquals("0\n", level());
    }

    @Test
    void aLineThatIsNotThereIsNamedAndNotCreated() {
        OutputException missing =
                assertThrows(OutputException.class, () -> new LedLine(leds, "fan").drive(false));

        assertTrue(
                String.valueOf(missing.getMessage())
                        .startsWith(leds.resolve("fan") + " is not there"),
                missing::toString);
        assertFalse(Files.exists(leds.resolve("fan")));
        new LedLine(leds, "fan").close();
    }

    @Test
    void aLevelThatDoesNotReadBackIsAFailure() throws IOException {
        // A fifo's other end or a broken driver: what was written is not what is read.
        Files.delete(folder.resolve("brightness"));
        Files.createSymbolicLink(folder.resolve("brightness"), Path.of("/dev/null"));

        OutputException failed = assertThrows(OutputException.class, () -> line().drive(true));

        assertTrue(String.valueOf(failed.getMessage()).contains("brightness"), failed::toString);
    }

    /** gpio-leds of older kernels read back 255 (LED_FULL) after 1 (common practice, no source). */
    @Test
    void aFullBrightnessOf255CountsAsOn() throws IOException {
        Files.writeString(folder.resolve("brightness"), "255\n");

        LedLine line = line();
        line.drive(false);
        line.drive(true);
        assertTrue(level().startsWith("1\n"));
    }

    @Test
    void aNameIsNoPath() {
        assertTrue(LedLine.isName("heater-north"));
        assertTrue(LedLine.isName("evenwarm:heater:north"));
        assertFalse(LedLine.isName("../heater"));
        assertFalse(LedLine.isName("a/b"));
        assertFalse(LedLine.isName(""));
    }
}
