package io.evenwarm.agent.app;

import io.evenwarm.agent.app.CabinetSettings.InputWiring;
import io.evenwarm.agent.app.CabinetSettings.InputWirings;
import io.evenwarm.agent.app.CabinetSettings.OutputDriver;
import io.evenwarm.agent.app.CabinetSettings.OutputWiring;
import io.evenwarm.agent.driver.pi4j.Gpio;
import io.evenwarm.agent.driver.pi4j.GpioPull;
import io.evenwarm.agent.driver.sysfs.LedLine;
import io.evenwarm.settings.TomlSection;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;

/** Reads how the lines of one {@code [[cabinet]]} are reached. */
final class LineReader {

    static final String HEATER = "heater";
    static final String CUT_OFF_RELAY = "cut_off_relay";
    static final String FAN = "fan";
    static final String BUZZER = "buzzer";
    static final String HUMIDIFIER = "humidifier";
    static final String VENT = "vent";

    /** The agent's outputs, by their tables' names. */
    static final List<String> OUTPUTS =
            List.of(HEATER, CUT_OFF_RELAY, FAN, BUZZER, HUMIDIFIER, VENT);

    private static final List<String> OUTPUT_DRIVERS =
            Arrays.stream(OutputDriver.values()).map(OutputDriver::word).toList();
    private static final List<String> INPUT_DRIVERS =
            List.of(OutputDriver.GPIO.word(), OutputDriver.SIMULATED.word());
    private static final String TACHOMETER = "fan_tachometer";
    private static final List<String> PULLS =
            Arrays.stream(GpioPull.values()).map(GpioPull::word).toList();
    private static final List<String> LEVELS = List.of("low", "high");
    private static final int USUAL_PULSES_PER_TURN = 2;

    private final TomlSection cabinet;
    private final Assignments taken;

    /**
     * @param cabinet the cabinet's table
     * @param taken lines that something uses already
     */
    LineReader(TomlSection cabinet, Assignments taken) {
        this.cabinet = cabinet;
        this.taken = taken;
    }

    /** The driver that a table of an output names, when there is such a driver. */
    static Optional<OutputDriver> driver(TomlSection output) {
        return output.text("driver")
                .flatMap(
                        word ->
                                Arrays.stream(OutputDriver.values())
                                        .filter(driver -> driver.word().equals(word))
                                        .findFirst());
    }

    /** An output, or empty when it is not there or has a fault. */
    Optional<OutputWiring> output(String key) {
        Optional<TomlSection> there = cabinet.section(key);
        if (there.isEmpty()) {
            return Optional.empty();
        }
        TomlSection output = there.get();
        output.allow("line", "active_low");
        boolean pulsed = key.equals(CUT_OFF_RELAY) && output.flag("pulsed", false);
        if (output.requiredWord("driver", OUTPUT_DRIVERS).isEmpty()) {
            return Optional.empty();
        }
        OutputDriver driver = driver(output).orElseThrow();
        boolean activeLow = output.flag("active_low", false);
        if (driver != OutputDriver.GPIO && output.has("active_low")) {
            output.fault(
                    "active_low",
                    driver == OutputDriver.LED
                            ? "nothing: with led, the overlay in config.txt says it"
                                    + " (active_low=1)"
                            : "nothing: a simulated line has no level");
        }
        return switch (driver) {
            case SIMULATED -> {
                if (output.has("line")) {
                    output.fault("line", "nothing: a simulated line has no name");
                }
                if (pulsed) {
                    output.fault("pulsed", "false: a simulated line has no level");
                }
                yield Optional.of(new OutputWiring(driver, "", false, false));
            }
            case LED ->
                    line(output, driver.word(), LedLine.NAME_FORM, LedLine.isName(text(output)))
                            .map(name -> new OutputWiring(driver, name, false, pulsed));
            case GPIO ->
                    line(output, driver.word(), Gpio.LINE_FORM, Gpio.isLine(text(output)))
                            .map(name -> new OutputWiring(driver, name, activeLow, pulsed));
        };
    }

    private static String text(TomlSection section) {
        return section.text("line").orElse("");
    }

    private Optional<String> line(
            TomlSection section, String kind, String form, boolean isAllowed) {
        Optional<String> line = section.requiredText("line", form);
        if (line.isPresent()) {
            if (!isAllowed) {
                section.fault("line", form);
            }
            taken.take(kind, line.get(), section, "line");
        }
        return line;
    }

    /**
     * The cabinet's switches, buttons and tachometer.
     *
     * @param simulated whether the cabinet is
     */
    InputWirings inputs(boolean simulated) {
        return new InputWirings(
                input("door", simulated, true),
                input("fan_tachometer", simulated, true),
                input("silence_button", simulated, false),
                input("reset_button", simulated, false));
    }

    private Optional<InputWiring> input(String key, boolean simulated, boolean canBeSimulated) {
        Optional<TomlSection> there = cabinet.section(key);
        if (there.isEmpty()) {
            return Optional.empty();
        }
        TomlSection section = there.get();
        section.allow("line", "pull", key.equals(TACHOMETER) ? "pulses_per_turn" : "closed");
        Optional<String> driver = section.requiredWord("driver", INPUT_DRIVERS);
        if (driver.isEmpty()) {
            return Optional.empty();
        }
        boolean isSimulated = driver.get().equals(OutputDriver.SIMULATED.word());
        if (isSimulated != simulated || (isSimulated && !canBeSimulated)) {
            section.fault(
                    "driver",
                    !simulated
                            ? "gpio: the cabinet is real"
                            : canBeSimulated
                                    ? "simulated: the cabinet is simulated"
                                    : "no such table: a simulated cabinet has no buttons");
            return Optional.empty();
        }
        if (isSimulated) {
            for (String other : List.of("line", "pull", "closed", "pulses_per_turn")) {
                if (section.has(other)) {
                    section.fault(other, "nothing: a simulated input has no line");
                }
            }
            return Optional.of(new InputWiring("", false, GpioPull.NONE, USUAL_PULSES_PER_TURN));
        }
        return wiring(section, key);
    }

    private Optional<InputWiring> wiring(TomlSection section, String key) {
        boolean isTachometer = key.equals(TACHOMETER);
        boolean closedHigh =
                !isTachometer && section.word("closed", LEVELS).map("high"::equals).orElse(false);
        int pulsesPerTurn =
                isTachometer
                        ? section.whole("pulses_per_turn", 1, 16, "").orElse(USUAL_PULSES_PER_TURN)
                        : 1;
        GpioPull usual = closedHigh ? GpioPull.DOWN : GpioPull.UP;
        GpioPull pull =
                section.word("pull", PULLS)
                        .map(
                                word ->
                                        Arrays.stream(GpioPull.values())
                                                .filter(each -> each.word().equals(word))
                                                .findFirst()
                                                .orElseThrow())
                        .orElse(usual);
        return line(section, OutputDriver.GPIO.word(), Gpio.LINE_FORM, Gpio.isLine(text(section)))
                .map(line -> new InputWiring(line, closedHigh, pull, pulsesPerTurn));
    }
}
