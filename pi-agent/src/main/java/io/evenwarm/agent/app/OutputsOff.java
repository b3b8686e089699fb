package io.evenwarm.agent.app;

import io.evenwarm.agent.app.CabinetSettings.OutputDriver;
import io.evenwarm.agent.driver.pi4j.Gpio;
import io.evenwarm.agent.driver.sysfs.LedLine;
import io.evenwarm.agent.port.Output;
import io.evenwarm.agent.port.OutputException;
import io.evenwarm.clock.SystemClock;
import io.evenwarm.settings.SettingsFaults;
import io.evenwarm.settings.TomlFile;
import io.evenwarm.settings.TomlSection;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import java.util.function.Supplier;

/**
 * Drives every line off that a configuration file names, also when the file has faults: a typing
 * error elsewhere in it must not leave a heater on.
 */
final class OutputsOff {

    /** Well above what a sound line takes; a service manager waits for all of them together. */
    private static final long PATIENCE_MILLIS = 500;

    private OutputsOff() {}

    /**
     * What became of one line.
     *
     * @param line its name
     * @param failure why it could not be driven off; empty when it was
     */
    record Line(String line, Optional<String> failure) {}

    /**
     * Drives them off, one after another. One that hangs holds up none after it: it is left to a
     * thread of its own and counts as a failure.
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
        Map<String, Output> outputs = new LinkedHashMap<>();
        Optional<Gpio> gpio = Optional.empty();
        for (TomlSection cabinet : top.sections("cabinet")) {
            for (String key : LineReader.OUTPUTS) {
                Optional<TomlSection> output = cabinet.section(key);
                Optional<String> line = output.flatMap(section -> section.text("line"));
                if (output.isEmpty() || line.isEmpty()) {
                    continue;
                }
                String name = line.get();
                // A driver's name with a slip in it may mean either: the line's own name decides.
                if (LineReader.driver(output.get()).equals(Optional.of(OutputDriver.LED))
                        || !Gpio.isLine(name)) {
                    if (LedLine.isName(name)) {
                        outputs.putIfAbsent(name, new LedLine(leds, name));
                    }
                } else {
                    gpio = gpio.or(() -> Optional.of(Gpio.ofThisMachine(SystemClock.monotonic())));
                    boolean activeLow = output.get().flag("active_low", false);
                    outputs.putIfAbsent(name, gpio.get().output(name, activeLow));
                }
            }
        }
        List<Line> lines =
                outputs.entrySet().stream()
                        .map(output -> new Line(output.getKey(), patiently(output)))
                        .toList();
        gpio.ifPresent(
                used ->
                        patiently(
                                "gpio",
                                () -> {
                                    used.close();
                                    return Optional.empty();
                                }));
        return lines;
    }

    private static Optional<String> patiently(Map.Entry<String, Output> output) {
        return patiently(output.getKey(), () -> driveOff(output.getValue()));
    }

    private static Optional<String> driveOff(Output output) {
        try {
            output.drive(false);
            return Optional.empty();
        } catch (OutputException e) {
            return Optional.of(String.valueOf(e.getMessage()));
        }
    }

    /** Does it in a thread that may be left behind; what is found, or that it hangs. */
    private static Optional<String> patiently(String name, Supplier<Optional<String>> work) {
        CompletableFuture<Optional<String>> found = new CompletableFuture<>();
        Thread worker =
                new Thread(
                        () -> {
                            try {
                                found.complete(work.get());
                            } catch (RuntimeException | LinkageError e) {
                                found.complete(Optional.of("driver error: " + e));
                            }
                        },
                        "off " + name);
        worker.setDaemon(true);
        worker.start();
        return found.completeOnTimeout(
                        Optional.of("the system did not answer within " + PATIENCE_MILLIS + " ms"),
                        PATIENCE_MILLIS,
                        TimeUnit.MILLISECONDS)
                .join();
    }
}
