package io.evenwarm.agent.app;

import io.evenwarm.agent.plant.PlantFault;
import io.evenwarm.agent.rehearsal.FaultKeys;
import io.evenwarm.agent.rehearsal.FaultKind;
import io.evenwarm.agent.rehearsal.Mishap;
import io.evenwarm.agent.rehearsal.Scenario;
import io.evenwarm.message.ProbeName;
import io.evenwarm.settings.NumberRange;
import io.evenwarm.settings.TomlSection;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/** Reads what goes wrong with a simulated cabinet, and when, from a {@code [[fault]]} table. */
final class FaultReader {

    private static final double LONGEST_SECONDS = 400 * 86_400.0;
    private static final List<String> KINDS =
            Arrays.stream(FaultKind.values()).map(FaultKind::word).toList();

    private FaultReader() {}

    /**
     * The faults of a simulated cabinet that runs live; what happens to the agent itself is a
     * rehearsal's. An agent that runs has its own power: it goes on without the cabinet's mains.
     */
    static List<Scenario.TimedFault> ofLiveCabinet(TomlSection cabinet, List<String> probes) {
        List<Scenario.TimedFault> faults = new ArrayList<>();
        for (TomlSection section : cabinet.sections("fault")) {
            read(section, probes)
                    .ifPresent(
                            fault -> {
                                Optional<PlantFault> there = inCabinet(fault.what());
                                if (there.isPresent()) {
                                    faults.add(
                                            new Scenario.TimedFault(
                                                    fault.atSeconds(),
                                                    fault.forSeconds(),
                                                    there.get()));
                                } else {
                                    section.faultWithFound(
                                            "kind",
                                            "\"" + fault.kind().word() + "\"",
                                            "a fault of the cabinet; what happens to the agent"
                                                    + " itself is for rehearsals only");
                                }
                            });
        }
        return faults;
    }

    private static Optional<PlantFault> inCabinet(Mishap what) {
        if (what instanceof Mishap.InCabinet in) {
            return Optional.of(in.fault());
        }
        return what instanceof Mishap.MainsCut
                ? Optional.of(new PlantFault.MainsCut())
                : Optional.empty();
    }

    /**
     * The fault of one table; empty when faults of the settings were added.
     *
     * @param probes the names of the cabinet's probes; empty where they are not known
     */
    static Optional<Scenario.TimedFault> read(TomlSection section, List<String> probes) {
        OptionalDouble at = required(section, "at", true);
        OptionalDouble lasts = span(section, "for", false);
        Optional<FaultKind> kind = section.requiredWord("kind", KINDS).flatMap(FaultKind::of);
        if (kind.isEmpty()) {
            section.allow("probe", "with");
            for (FaultKind each : FaultKind.values()) {
                each.numberKey().ifPresent(section::allow);
                each.flagKey().ifPresent(section::allow);
            }
            return Optional.empty();
        }
        Optional<Mishap> what = mishap(section, kind.get(), probes);
        if (at.isEmpty() || what.isEmpty()) {
            return Optional.empty();
        }
        return Optional.of(new Scenario.TimedFault(at.getAsDouble(), lasts, what.get()));
    }

    private static Optional<Mishap> mishap(
            TomlSection section, FaultKind kind, List<String> probes) {
        Optional<ProbeName> probe = Optional.empty();
        Optional<ProbeName> with = Optional.empty();
        boolean isWhole = true;
        if (kind.needsProbe()) {
            probe = probe(section, "probe", probes);
            isWhole = probe.isPresent();
        } else if (section.has("probe")) {
            section.fault("probe", "nothing: " + kind.word() + " hits no single probe");
            section.allow("probe");
        }
        if (kind.needsTwoProbes()) {
            with = probe(section, "with", probes);
            isWhole &= with.isPresent();
        }
        double number = 0;
        Optional<String> key = kind.numberKey();
        if (key.isPresent()) {
            OptionalDouble given = number(section, key.get(), kind);
            isWhole &= given.isPresent();
            number = given.orElse(0);
        }
        boolean flag = kind.flagKey().map(name -> section.flag(name, false)).orElse(false);
        if (!isWhole) {
            return Optional.empty();
        }
        try {
            return Optional.of(kind.make(new FaultKeys(probe, with, number, flag)));
        } catch (IllegalArgumentException e) {
            String at = kind.needsTwoProbes() ? "with" : key.orElse("kind");
            section.fault(at, String.valueOf(e.getMessage()));
            return Optional.empty();
        }
    }

    /** Without a sound cabinet nobody knows yet which probes it has. */
    private static Optional<ProbeName> probe(TomlSection section, String key, List<String> probes) {
        return probes.isEmpty()
                ? section.requiredParsed(key, "a probe's name", ProbeName::new)
                : section.requiredWord(key, probes).map(ProbeName::new);
    }

    private static OptionalDouble number(TomlSection section, String key, FaultKind kind) {
        NumberRange any = NumberRange.of(-1e9, 1e9, "");
        if (kind.usualNumber().isEmpty()) {
            return section.requiredNumber(key, any);
        }
        return section.has(key) ? section.number(key, any) : usual(section, key, kind);
    }

    private static OptionalDouble usual(TomlSection section, String key, FaultKind kind) {
        section.allow(key);
        return kind.usualNumber();
    }

    /** A span of time in s that must be said. */
    static OptionalDouble required(TomlSection section, String key, boolean mayBeZero) {
        if (!section.has(key)) {
            section.allow(key);
            section.fault(key, DurationText.ALLOWED);
            return OptionalDouble.empty();
        }
        return span(section, key, mayBeZero);
    }

    /** A span of time in s; empty when it is not there, or not allowed. */
    private static OptionalDouble span(TomlSection section, String key, boolean mayBeZero) {
        Optional<Double> parsed = section.parsed(key, DurationText.ALLOWED, DurationText::seconds);
        if (parsed.isEmpty()) {
            return OptionalDouble.empty();
        }
        double seconds = parsed.get();
        if (seconds > LONGEST_SECONDS || (seconds == 0 && !mayBeZero)) {
            section.fault(key, (mayBeZero ? "0 s" : "above 0 s") + " to 400d");
            return OptionalDouble.empty();
        }
        return OptionalDouble.of(seconds);
    }
}
