package io.evenwarm.agent.driver.sysfs;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * A line keeps its last driven state when the program that held it exits, unless strict_gpiod or
 * pinctrl_bcm2835.persist_gpio_outputs=n is set: Raspberry Pi documentation on GPIO and libgpiod.
 */
final class LineReleaseTest {

    @TempDir Path root;

    private void write(String file, String text) throws IOException {
        Path path = root.resolve(file);
        Files.createDirectories(path.getParent());
        Files.writeString(path, text);
    }

    private Optional<String> whyKept() {
        return new LineRelease(root).whyKept();
    }

    @ParameterizedTest
    @CsvSource({
        "pinctrl_bcm2835, N, true",
        "pinctrl_bcm2835, Y, false",
        "pinctrl_rp1, N, true",
        "pinctrl_rp1, Y, false",
        "pinctrl_other, N, false",
    })
    void theModulesOwnParameterDecides(String module, String value, boolean released)
            throws IOException {
        write("sys/module/" + module + "/parameters/persist_gpio_outputs", value + "\n");
        assertEquals(released, whyKept().isEmpty());
    }

    @ParameterizedTest
    @CsvSource({
        "'console=tty1 pinctrl_bcm2835.persist_gpio_outputs=n root=/dev/mmcblk0p2', true",
        "'pinctrl_rp1.persist_gpio_outputs=0', true",
        "'pinctrl_bcm2835.persist_gpio_outputs=y', false",
        "'pinctrl_bcm2835.persist_gpio_outputs=n pinctrl_bcm2835.persist_gpio_outputs=y', false",
        "'xpinctrl_bcm2835.persist_gpio_outputs=n', false",
        "'console=tty1', false",
    })
    void withoutItTheKernelsCommandLineDecides(String commandLine, boolean released)
            throws IOException {
        write("proc/cmdline", commandLine + "\n");
        assertEquals(released, whyKept().isEmpty());
    }

    @Test
    void theParameterInForceCountsAndNotWhatTheNextBootWouldBring() throws IOException {
        write("sys/module/pinctrl_bcm2835/parameters/persist_gpio_outputs", "Y\n");
        assertEquals(
                "this kernel keeps a GPIO line at its last level when the program that held it dies;"
                        + " put dtparam=strict_gpiod into config.txt and boot again",
                whyKept().orElseThrow());

        write("boot/firmware/config.txt", "# x\ndtparam=i2c_arm=on,strict_gpiod\n");
        assertTrue(
                whyKept().orElseThrow().contains("not in force: boot again"), whyKept()::toString);
        write("boot/firmware/config.txt", "#dtparam=strict_gpiod\n");
        assertTrue(whyKept().orElseThrow().contains("put dtparam"), whyKept()::toString);
    }

    @Test
    void whatCannotBeFoundOutCountsAsKeeping() {
        assertTrue(whyKept().orElseThrow().startsWith("nothing says"), whyKept()::toString);
    }
}
