package io.evenwarm.agent.app;

import io.evenwarm.agent.plan.ControlPlan;
import io.evenwarm.agent.plant.CabinetBuild;
import io.evenwarm.agent.rehearsal.Scenario;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.settings.NumberRange;
import io.evenwarm.settings.SettingsFaults;
import io.evenwarm.settings.TomlFile;
import io.evenwarm.settings.TomlSection;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;

/** Reads a scenario file; {@code docs/scenarios.md} lists its keys. */
final class ScenarioReader {

    private static final NumberRange SET_POINT = NumberRange.of(10, 43, "°C");
    private static final NumberRange LIMIT = NumberRange.of(0, 45, "°C");
    private static final int MAX_PROBES = 32;
    private static final List<String> USUAL_PROBES = List.of("top", "middle", "bottom", "tub");
    private static final List<String> STARTS =
            Arrays.stream(Scenario.Start.values()).map(ScenarioReader::word).toList();

    private final SettingsFaults faults;

    private ScenarioReader(SettingsFaults faults) {
        this.faults = faults;
    }

    /** The scenario; empty when faults were added. */
    static Optional<Scenario> read(Path file, SettingsFaults faults) {
        return TomlFile.read(file, faults).flatMap(top -> new ScenarioReader(faults).read(top));
    }

    /** As {@link #read}, from text. */
    static Optional<Scenario> parse(String name, String text, SettingsFaults faults) {
        return TomlFile.parse(name, text, faults)
                .flatMap(top -> new ScenarioReader(faults).read(top));
    }

    private static String word(Scenario.Start start) {
        return start.name().toLowerCase(Locale.ROOT);
    }

    private Optional<Scenario> read(TomlSection top) {
        int seed = top.whole("seed", 0, Integer.MAX_VALUE, "").orElse(1);
        OptionalDouble duration = FaultReader.required(top, "duration", false);
        Optional<TomlSection> section = top.section("cabinet");
        if (!top.has("cabinet")) {
            top.fault("cabinet", "a table [cabinet] with set_point_celsius");
        }
        Optional<Scenario.Cabinet> cabinet = section.flatMap(this::cabinet);
        List<String> probes = cabinet.map(Scenario.Cabinet::probeNames).orElse(List.of());
        List<Scenario.TimedFault> timed = new ArrayList<>();
        for (TomlSection fault : top.sections("fault")) {
            FaultReader.read(fault, probes).ifPresent(timed::add);
        }
        top.rejectUnknownKeys();
        if (faults.hasErrors() || cabinet.isEmpty() || duration.isEmpty()) {
            return Optional.empty();
        }
        return Optional.of(new Scenario(seed, duration.getAsDouble(), cabinet.get(), timed));
    }

    private Optional<Scenario.Cabinet> cabinet(TomlSection section) {
        OptionalDouble setPoint = section.requiredNumber("set_point_celsius", SET_POINT);
        OptionalDouble cutOff = section.number("cut_off_celsius", LIMIT);
        OptionalDouble ceiling = section.number("ceiling_celsius", LIMIT);
        boolean cutOffRelay = section.flag("cut_off_relay", true);
        Scenario.Start start =
                section.word("start", STARTS)
                        .map(word -> Scenario.Start.valueOf(word.toUpperCase(Locale.ROOT)))
                        .orElse(Scenario.Start.SETTLED);
        boolean tachometer = section.flag("fan_tachometer", false);
        boolean doorSwitch = section.flag("door_switch", false);
        List<String> positions = probes(section);
        Optional<CabinetBuild> build = SimulatedCabinetReader.read(section);
        Optional<ControlPlan> control = ControlReader.read(section.section("control"));
        if (setPoint.isEmpty() || build.isEmpty() || control.isEmpty()) {
            return Optional.empty();
        }
        double set = setPoint.getAsDouble();
        double cut = cutOff.orElse(set + 2);
        double top = ceiling.orElse(Math.min(cut + 1, LIMIT.max()));
        if (!(cut >= set + CabinetReader.CUT_OFF_DISTANCE_KELVIN)) {
            section.fault("cut_off_celsius", "at least 1 K above the set point of " + celsius(set));
            return Optional.empty();
        }
        if (!(cut < top)) {
            section.fault("ceiling_celsius", "above the cut-off of " + celsius(cut));
            return Optional.empty();
        }
        return Optional.of(
                new Scenario.Cabinet(
                        build.get(),
                        set,
                        cut,
                        top,
                        cutOffRelay,
                        tachometer,
                        doorSwitch,
                        positions,
                        start,
                        control.get()));
    }

    private static String celsius(double value) {
        return NumberRange.plain(value) + " °C";
    }

    private static List<String> probes(TomlSection section) {
        if (!section.has("probes")) {
            section.allow("probes");
            return USUAL_PROBES;
        }
        List<String> positions = section.texts("probes");
        List<String> sound = new ArrayList<>();
        boolean hasAir = false;
        for (String position : positions) {
            try {
                hasAir |= ProbePlace.of(position).kind().isAir();
                sound.add(position);
            } catch (IllegalArgumentException e) {
                section.faultWithFound(
                        "probes",
                        "\"" + position + "\"",
                        "top, middle, bottom, guard, tub, room, or words of your own");
            }
        }
        if (!hasAir || positions.size() > MAX_PROBES) {
            section.fault("probes", "1 to " + MAX_PROBES + " places, at least one in the air");
            return USUAL_PROBES;
        }
        return sound;
    }
}
