package io.evenwarm.agent.app;

import io.evenwarm.agent.app.CabinetSettings.InputWiring;
import io.evenwarm.agent.app.CabinetSettings.OutputDriver;
import io.evenwarm.agent.app.CabinetSettings.OutputWiring;
import io.evenwarm.agent.driver.sysfs.SensorSearch;
import io.evenwarm.agent.port.Sample;
import io.evenwarm.clock.MonotonicClock;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;

/**
 * What of a configuration's hardware is there: each probe is read once; no line is driven, because
 * an agent may run.
 */
final class HardwareCheck {

    /** Longer than any bus's first round with a probe that does not answer at its end. */
    private static final double LONGEST_SECONDS = 15;

    private static final double SECONDS_PER_PROBE = 1.5;

    private final AgentConfiguration configuration;
    private final HeatPermission permission;
    private final Path dev;
    private final List<Item> probes = new ArrayList<>();
    private final List<Item> unused = new ArrayList<>();
    private final List<Item> lines = new ArrayList<>();
    private final List<Item> heat = new ArrayList<>();

    /**
     * One thing that was looked at.
     *
     * @param user cabinet and what it is there
     * @param place driver and address
     * @param found what was found, when it is well
     * @param trouble what is missing and why; empty when all is well
     */
    record Item(String user, String place, String found, Optional<String> trouble) {}

    /**
     * @param dev Linux's {@code /dev}, or a stand-in
     */
    HardwareCheck(AgentConfiguration configuration, HeatPermission permission, Path dev) {
        this.configuration = configuration;
        this.permission = permission;
        this.dev = dev;
    }

    /** Looks at everything. Takes seconds. */
    void run(MonotonicClock clock) {
        try (FoundProbes found = FoundProbes.start(configuration, clock)) {
            found.awaitFirst(
                    Math.min(60, LONGEST_SECONDS + SECONDS_PER_PROBE * found.entries().size()));
            for (FoundProbes.Entry entry : found.entries()) {
                if (entry.isThere()) {
                    (entry.user().isPresent() ? probes : unused).add(item(entry));
                }
            }
        }
        List<String> leds = SensorSearch.leds(configuration.roots().led());
        for (CabinetSettings cabinet : configuration.cabinets()) {
            if (!cabinet.isSimulated()) {
                lines(cabinet, leds);
            }
            List<String> refusals = permission.refusals(cabinet, configuration.roots().led());
            heat.add(
                    new Item(
                            name(cabinet),
                            "",
                            "may be heated",
                            refusals.isEmpty()
                                    ? Optional.empty()
                                    : Optional.of(String.join("; and ", refusals))));
        }
    }

    private static Item item(FoundProbes.Entry entry) {
        String place = entry.wiring().driver().word() + " " + entry.wiring().address();
        String user = entry.user().map(FoundProbes.User::toString).orElse("");
        Sample sample = entry.probe().newest();
        if (sample instanceof Sample.Measured measured) {
            return new Item(user, place, text(measured), Optional.empty());
        }
        return new Item(
                user,
                place,
                "",
                Optional.of(
                        sample instanceof Sample.Failed failed
                                ? failed.why().words() + ": " + failed.detail()
                                : "no answer in time: its bus, " + entry.bus() + ", hangs"));
    }

    /** As the configuration says: °C and percent. */
    static String text(Sample.Measured measured) {
        return String.format(
                Locale.ROOT,
                measured.unit() == Sample.Unit.CELSIUS ? "%.2f °C" : "%.1f %% RH",
                measured.value());
    }

    private void lines(CabinetSettings cabinet, List<String> leds) {
        Map<String, OutputWiring> outputs = new LinkedHashMap<>();
        outputs.put("heater", cabinet.heater());
        cabinet.cutOffRelay().ifPresent(line -> outputs.put("cut_off_relay", line));
        cabinet.fan().ifPresent(line -> outputs.put("fan", line));
        cabinet.buzzer().ifPresent(line -> outputs.put("buzzer", line));
        cabinet.humidifier().ifPresent(line -> outputs.put("humidifier", line));
        cabinet.vent().ifPresent(line -> outputs.put("vent", line));
        outputs.forEach(
                (key, line) ->
                        lines.add(
                                line.driver() == OutputDriver.LED
                                        ? led(name(cabinet) + " / " + key, line, leds)
                                        : gpio(name(cabinet) + " / " + key, line.line())));
        Map<String, InputWiring> inputs = new LinkedHashMap<>();
        cabinet.inputs().door().ifPresent(line -> inputs.put("door", line));
        cabinet.inputs().fanTachometer().ifPresent(line -> inputs.put("fan_tachometer", line));
        cabinet.inputs().silenceButton().ifPresent(line -> inputs.put("silence_button", line));
        cabinet.inputs().resetButton().ifPresent(line -> inputs.put("reset_button", line));
        inputs.forEach((key, line) -> lines.add(gpio(name(cabinet) + " / " + key, line.line())));
    }

    private static String name(CabinetSettings cabinet) {
        return cabinet.plan().name().value();
    }

    private Item led(String user, OutputWiring line, List<String> leds) {
        Path brightness = configuration.roots().led().resolve(line.line()).resolve("brightness");
        Optional<String> trouble = Optional.empty();
        if (!leds.contains(line.line())) {
            trouble =
                    Optional.of(
                            "not there: no such line below "
                                    + configuration.roots().led()
                                    + (leds.isEmpty()
                                            ? ", and no other"
                                            : "; there are " + String.join(", ", leds))
                                    + ". Is its overlay loaded?");
        } else if (!Files.isWritable(brightness)) {
            trouble = Optional.of(brightness + " may not be written by this user");
        }
        return new Item(user, "led " + line.line(), "there; not driven", trouble);
    }

    private Item gpio(String user, String line) {
        boolean isThere = Files.exists(dev.resolve("gpiochip0"));
        boolean mayUse = isThere && Files.isWritable(dev.resolve("gpiochip0"));
        Optional<String> trouble =
                mayUse
                        ? Optional.empty()
                        : Optional.of(
                                isThere
                                        ? dev.resolve("gpiochip0")
                                                + " may not be used by this user; the group gpio"
                                                + " gives the right"
                                        : "no GPIO chip: "
                                                + dev.resolve("gpiochip0")
                                                + " is not there");
        return new Item(user, "gpio " + line, "its chip is there; not driven", trouble);
    }

    /** Probes of the configuration, as they were read. */
    List<Item> probes() {
        return List.copyOf(probes);
    }

    /** Probes that are there and in no cabinet. */
    List<Item> unused() {
        return List.copyOf(unused);
    }

    /** Outputs and inputs of the configuration. */
    List<Item> lines() {
        return List.copyOf(lines);
    }

    /** Cabinets, and whether each may be heated. */
    List<Item> heat() {
        return List.copyOf(heat);
    }

    /** Whether everything that is configured is there, and every cabinet may be heated. */
    boolean isWell() {
        return List.of(probes, lines, heat).stream()
                .flatMap(List::stream)
                .allMatch(item -> item.trouble().isEmpty());
    }
}
