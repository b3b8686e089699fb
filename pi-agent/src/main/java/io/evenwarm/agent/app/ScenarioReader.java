package io.evenwarm.agent.app;

import io.evenwarm.agent.plant.CabinetBuild;
import io.evenwarm.agent.plant.PlantFault;
import io.evenwarm.agent.rehearsal.FaultKind;
import io.evenwarm.agent.rehearsal.Scenario;
import io.evenwarm.message.ProbeName;
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

    private static final double SECONDS_PER_HOUR = 3600;
    private static final double SECONDS_PER_MINUTE = 60;
    private static final NumberRange SET_POINT = NumberRange.of(10, 43, "°C");
    private static final NumberRange LIMIT = NumberRange.of(0, 45, "°C");
    private static final NumberRange HOURS = NumberRange.above(0, 400 * 24, "h");
    private static final NumberRange MINUTES = NumberRange.of(0, 400 * 24 * 60, "min");
    private static final int MAX_PROBES = 32;
    private static final List<String> USUAL_PROBES = List.of("top", "middle", "bottom", "tub");
    private static final List<String> STARTS =
            Arrays.stream(Scenario.Start.values()).map(ScenarioReader::word).toList();
    private static final List<String> KINDS =
            Arrays.stream(FaultKind.values()).map(FaultKind::word).toList();

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
        OptionalDouble hours = top.requiredNumber("duration_hours", HOURS);
        Optional<TomlSection> section = top.section("cabinet");
        if (!top.has("cabinet")) {
            top.fault("cabinet", "a table [cabinet] with set_point_celsius");
        }
        Optional<Scenario.Cabinet> cabinet = section.flatMap(this::cabinet);
        List<String> probes = cabinet.map(Scenario.Cabinet::probeNames).orElse(List.of());
        List<Scenario.TimedFault> timed = new ArrayList<>();
        for (TomlSection fault : top.sections("fault")) {
            fault(fault, probes).ifPresent(timed::add);
        }
        top.rejectUnknownKeys();
        if (faults.hasErrors() || cabinet.isEmpty() || hours.isEmpty()) {
            return Optional.empty();
        }
        return Optional.of(
                new Scenario(seed, hours.getAsDouble() * SECONDS_PER_HOUR, cabinet.get(), timed));
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
        List<String> positions = probes(section);
        Optional<TomlSection> simulated = section.section("simulated");
        simulated
                .filter(there -> there.has("start_celsius"))
                .ifPresent(
                        there ->
                                there.fault(
                                        "start_celsius",
                                        "nothing: the cabinet's start says how it begins"));
        Optional<CabinetBuild> build = SimulatedCabinetReader.read(section, simulated);
        if (setPoint.isEmpty() || build.isEmpty()) {
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
                new Scenario.Cabinet(build.get(), set, cut, top, cutOffRelay, positions, start));
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
                        "top, middle, bottom, tub, ambient, or words of your own");
            }
        }
        if (!hasAir || positions.size() > MAX_PROBES) {
            section.fault("probes", "1 to " + MAX_PROBES + " places, at least one in the air");
            return USUAL_PROBES;
        }
        return sound;
    }

    private static Optional<Scenario.TimedFault> fault(TomlSection section, List<String> probes) {
        OptionalDouble atMinutes = section.requiredNumber("at_minutes", MINUTES);
        OptionalDouble forMinutes =
                section.number(
                        "for_minutes", NumberRange.above(MINUTES.min(), MINUTES.max(), "min"));
        Optional<FaultKind> kind = section.requiredWord("kind", KINDS).flatMap(FaultKind::of);
        section.allow("probe");
        if (kind.isEmpty()) {
            Arrays.stream(FaultKind.values())
                    .flatMap(each -> each.numberKey().stream())
                    .forEach(section::allow);
            return Optional.empty();
        }
        Optional<String> key = kind.get().numberKey();
        key.ifPresent(section::allow);
        Optional<ProbeName> probe = Optional.empty();
        if (kind.get().needsProbe()) {
            // Without a sound cabinet nobody knows yet which probes it has.
            probe =
                    probes.isEmpty()
                            ? section.requiredParsed("probe", "a probe's name", ProbeName::new)
                            : section.requiredWord("probe", probes).map(ProbeName::new);
            if (probe.isEmpty()) {
                return Optional.empty();
            }
        } else if (section.has("probe")) {
            section.fault("probe", "nothing: " + kind.get().word() + " hits no single probe");
        }
        double number = 0;
        if (key.isPresent()) {
            OptionalDouble given =
                    section.requiredNumber(key.get(), NumberRange.of(-1000, 1000, ""));
            if (given.isEmpty()) {
                return Optional.empty();
            }
            number = given.getAsDouble();
        }
        PlantFault made;
        try {
            made = kind.get().make(probe, number);
        } catch (IllegalArgumentException e) {
            section.fault(key.orElse("kind"), String.valueOf(e.getMessage()));
            return Optional.empty();
        }
        if (atMinutes.isEmpty()) {
            return Optional.empty();
        }
        return Optional.of(
                new Scenario.TimedFault(
                        atMinutes.getAsDouble() * SECONDS_PER_MINUTE,
                        forMinutes.isPresent()
                                ? OptionalDouble.of(forMinutes.getAsDouble() * SECONDS_PER_MINUTE)
                                : OptionalDouble.empty(),
                        made));
    }
}
