package io.evenwarm.agent.driver.sysfs;

import java.io.IOException;
import java.lang.System.Logger;
import java.lang.System.Logger.Level;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * What the kernel does with a GPIO line when the program that held it ends, however it ends. On a
 * Pi it keeps the line at its last level, unless the device tree parameter {@code strict_gpiod} or
 * {@code persist_gpio_outputs=n} is set (Raspberry Pi documentation on GPIO and libgpiod).
 */
public final class LineRelease {

    private static final Logger LOG = System.getLogger(LineRelease.class.getName());

    /** The pin controllers' modules: up to the Pi 4, and the Pi 5's (from memory of its source). */
    private static final List<String> MODULES = List.of("pinctrl_bcm2835", "pinctrl_rp1");

    private static final Pattern IN_COMMAND_LINE =
            Pattern.compile("(?:^|\\s)pinctrl_(?:bcm2835|rp1)\\.persist_gpio_outputs=(\\S+)");
    private static final Pattern IN_CONFIG_TXT =
            Pattern.compile("(?m)^\\s*dtparam=(?:[^#\\n]*,)?strict_gpiod\\b");
    private static final List<String> CONFIG_TXT =
            List.of("boot/firmware/config.txt", "boot/config.txt");

    private final Path root;

    /**
     * @param root the file system's root, or a stand-in
     */
    public LineRelease(Path root) {
        this.root = root;
    }

    /**
     * Why a line would stay on; empty when the kernel lets go of it. What can't be found out counts
     * as keeping.
     */
    public Optional<String> whyKept() {
        Optional<Boolean> keeps = parameter().or(this::commandLine);
        if (keeps.equals(Optional.of(false))) {
            return Optional.empty();
        }
        String remedy =
                isInConfigTxt()
                        ? "config.txt has dtparam=strict_gpiod, but it is not in force: boot again"
                        : "put dtparam=strict_gpiod into config.txt and boot again";
        return Optional.of(
                (keeps.isPresent()
                                ? "this kernel keeps a GPIO line at its last level when the program"
                                        + " that held it dies"
                                : "nothing says that this kernel lets go of GPIO lines when the"
                                        + " program that held them dies")
                        + "; "
                        + remedy);
    }

    private Optional<Boolean> parameter() {
        for (String module : MODULES) {
            Path file =
                    root.resolve("sys/module")
                            .resolve(module)
                            .resolve("parameters")
                            .resolve("persist_gpio_outputs");
            try {
                return Optional.of(!isNo(SysfsFile.read(file)));
            } catch (IOException e) {
                // Another board's module, or an older kernel's: the command line is asked next.
                LOG.log(Level.DEBUG, "{0} is not there", file);
            }
        }
        return Optional.empty();
    }

    private Optional<Boolean> commandLine() {
        try {
            Matcher matcher = IN_COMMAND_LINE.matcher(SysfsFile.read(root.resolve("proc/cmdline")));
            Optional<Boolean> last = Optional.empty();
            while (matcher.find()) {
                last = Optional.of(!isNo(matcher.group(1)));
            }
            return last;
        } catch (IOException e) {
            return Optional.empty();
        }
    }

    private boolean isInConfigTxt() {
        for (String file : CONFIG_TXT) {
            try {
                if (IN_CONFIG_TXT.matcher(Files.readString(root.resolve(file))).find()) {
                    return true;
                }
            } catch (IOException e) {
                // Not a Pi, or the other place.
                LOG.log(Level.DEBUG, "{0} is not there", file);
            }
        }
        return false;
    }

    /** As the kernel reads a truth value (kernel/params.c, from memory). */
    private static boolean isNo(String text) {
        return !text.isEmpty() && "nN0".indexOf(text.charAt(0)) >= 0;
    }
}
