package io.evenwarm.agent.app;

import io.evenwarm.agent.driver.sysfs.LedLine;
import io.evenwarm.agent.port.OutputException;
import io.evenwarm.settings.SettingsFaults;
import io.evenwarm.settings.TomlFile;
import io.evenwarm.settings.TomlSection;
import java.nio.file.Path;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * Drives every line off that a configuration file names, also when the file has faults: a typing
 * error elsewhere in it must not leave a heater on.
 */
final class OutputsOff {

    private OutputsOff() {}

    /**
     * What became of one line.
     *
     * @param line its name
     * @param failure why it could not be driven off; empty when it was
     */
    record Line(String line, Optional<String> failure) {}

    /**
     * Drives them off, one after another.
     *
     * @return what became of each; empty when the file can't be read as TOML at all
     */
    static Optional<List<Line>> drive(Path file) {
        return TomlFile.read(file, new SettingsFaults())
                .map(top -> drive(top, ConfigurationReader.folderOf(file)));
    }

    private static List<Line> drive(TomlSection top, Path folder) {
        Path leds =
                top.section("sensors")
                        .flatMap(
                                section ->
                                        section.parsed(
                                                "led_folder",
                                                "a folder's path",
                                                text -> ConfigurationReader.resolve(folder, text)))
                        .orElse(Path.of(ConfigurationReader.USUAL_LED_FOLDER));
        Set<String> names = new LinkedHashSet<>();
        for (TomlSection cabinet : top.sections("cabinet")) {
            for (String output : CabinetReader.OUTPUTS) {
                cabinet.section(output)
                        .flatMap(section -> section.text("line"))
                        .filter(LedLine::isName)
                        .ifPresent(names::add);
            }
        }
        return names.stream().map(name -> driveOff(leds, name)).toList();
    }

    // The line is let go of without close(), which would drive it a second time.
    @SuppressWarnings("resource")
    private static Line driveOff(Path leds, String name) {
        try {
            new LedLine(leds, name).drive(false);
            return new Line(name, Optional.empty());
        } catch (OutputException e) {
            return new Line(name, Optional.of(String.valueOf(e.getMessage())));
        }
    }
}
