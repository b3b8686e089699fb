package io.evenwarm.agent.app;

import io.evenwarm.agent.app.CabinetSettings.InputWirings;
import io.evenwarm.agent.app.CabinetSettings.OutputDriver;
import io.evenwarm.agent.app.CabinetSettings.OutputWiring;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plan.ControlPlan;
import io.evenwarm.agent.plan.FallbackPlan;
import io.evenwarm.agent.plan.GuardPlan;
import io.evenwarm.agent.plan.KeepingPlan;
import io.evenwarm.agent.plan.ProbePlan;
import io.evenwarm.agent.plant.CabinetBuild;
import io.evenwarm.agent.rehearsal.Scenario;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.Limits;
import io.evenwarm.quantity.Temperature;
import io.evenwarm.settings.NumberRange;
import io.evenwarm.settings.TomlSection;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;

/** Reads one {@code [[cabinet]]}. */
final class CabinetReader {

    /** A cut-off nearer to the set point would trip by the set point's own overshoot. */
    static final double CUT_OFF_DISTANCE_KELVIN = 1;

    /** Eggs above the ceiling must be stopped from getting there, not found there. */
    static final double CEILING_DISTANCE_KELVIN = 0.5;

    private static final NumberRange SET_POINT = NumberRange.of(10, 43, "°C");
    private static final NumberRange LIMIT = NumberRange.of(0, 45, "°C");
    private static final int MAX_PROBES = 32;

    private final TomlSection section;
    private final Assignments taken;
    private final OneWireBuses buses;

    /**
     * @param taken lines and addresses that cabinets before this one use
     * @param buses which probes of the whole file share a 1-Wire bus
     */
    CabinetReader(TomlSection section, Assignments taken, OneWireBuses buses) {
        this.section = section;
        this.taken = taken;
        this.buses = buses;
    }

    /** The cabinet, or empty when faults were added that leave none. */
    Optional<CabinetSettings> read() {
        Optional<CabinetName> name =
                section.requiredParsed("name", ConfigurationReader.NAME_FORM, CabinetName::new);
        OptionalDouble setPoint = section.requiredNumber("set_point_celsius", SET_POINT);
        Optional<Limits> limits = limits(setPoint);
        List<ProbeReader.ReadProbe> probes = probes();
        LineReader lines = new LineReader(section, taken);
        Optional<OutputWiring> heater = lines.output(LineReader.HEATER);
        if (!section.has("heater")) {
            section.fault("heater", "a table [cabinet.heater] with driver and line");
        }
        Optional<OutputWiring> cutOffRelay = lines.output(LineReader.CUT_OFF_RELAY);
        if (!section.has("cut_off_relay")) {
            section.warn(
                    "cut_off_relay",
                    "none",
                    "a heater relay that welds shut could then not be stopped by the agent; put a"
                            + " second relay in series and give it [cabinet.cut_off_relay].");
        }
        Optional<OutputWiring> fan = lines.output(LineReader.FAN);
        Optional<OutputWiring> buzzer = lines.output(LineReader.BUZZER);
        Optional<OutputWiring> humidifier = lines.output(LineReader.HUMIDIFIER);
        Optional<OutputWiring> vent = lines.output(LineReader.VENT);
        Optional<ControlPlan> control = ControlReader.read(section.section("control"));
        Optional<GuardPlan> guard = guard(FallbackReader.read(section, limits));
        boolean simulated =
                heater.map(there -> there.driver() == OutputDriver.SIMULATED).orElse(false);
        InputWirings inputs = lines.inputs(simulated);
        Optional<CabinetBuild> build = simulatedBuild(simulated);
        checkAllOrNothingSimulated(heater, probes);
        List<Scenario.TimedFault> faults =
                FaultReader.ofLiveCabinet(
                        section,
                        probes.stream().map(probe -> probe.plan().name().value()).toList());
        if (!faults.isEmpty() && !simulated) {
            section.faultWithFound(
                    "fault",
                    "a fault of a simulated cabinet, but the heater is real",
                    "nothing at a real cabinet");
        }
        Optional<KeepingPlan> keeping =
                new KeepingReader(section)
                        .read(
                                setPoint,
                                limits,
                                probes.stream().map(ProbeReader.ReadProbe::plan).toList(),
                                humidifier.isPresent() || vent.isPresent());
        if (name.isEmpty()
                || keeping.isEmpty()
                || setPoint.isEmpty()
                || limits.isEmpty()
                || !hasControlProbe(probes)
                || heater.isEmpty()
                || control.isEmpty()
                || guard.isEmpty()
                || (simulated && build.isEmpty())) {
            return Optional.empty();
        }
        CabinetPlan plan =
                new CabinetPlan(
                        name.get(),
                        probes.stream().map(ProbeReader.ReadProbe::plan).toList(),
                        new Temperature(setPoint.getAsDouble()),
                        limits.get(),
                        control.get(),
                        guard.get(),
                        cutOffRelay.isPresent(),
                        fan.isPresent(),
                        inputs.fanTachometer().isPresent(),
                        inputs.door().isPresent(),
                        keeping.get());
        return Optional.of(
                new CabinetSettings(
                        plan,
                        probes.stream().map(ProbeReader.ReadProbe::wiring).toList(),
                        heater.get(),
                        cutOffRelay,
                        fan,
                        buzzer,
                        humidifier,
                        vent,
                        inputs,
                        build,
                        faults));
    }

    private Optional<Limits> limits(OptionalDouble setPoint) {
        OptionalDouble tooCold = section.number("too_cold_celsius", LIMIT);
        OptionalDouble tooWarm = section.number("too_warm_celsius", LIMIT);
        OptionalDouble cutOff = section.number("cut_off_celsius", LIMIT);
        OptionalDouble ceiling = section.number("ceiling_celsius", LIMIT);
        if (setPoint.isEmpty()) {
            return Optional.empty();
        }
        double set = setPoint.getAsDouble();
        double cold = tooCold.orElse(set - 1);
        double warm = tooWarm.orElse(set + 1);
        double cut = cutOff.orElse(set + 2);
        double top = ceiling.orElse(Math.min(set + 3, LIMIT.max()));
        String setWords = "the set point of " + NumberRange.plain(set) + " °C";
        String topWords = "the ceiling of " + NumberRange.plain(top) + " °C";
        if (!(cold < set)) {
            limitFault("too_cold_celsius", cold, "below " + setWords);
        }
        if (!(warm > set)) {
            limitFault("too_warm_celsius", warm, "above " + setWords);
        }
        if (!(cut >= set + CUT_OFF_DISTANCE_KELVIN)) {
            limitFault(
                    "cut_off_celsius",
                    cut,
                    NumberRange.plain(set + CUT_OFF_DISTANCE_KELVIN)
                            + " °C or more: at least 1 K above "
                            + setWords);
        }
        if (!(cut <= top - CEILING_DISTANCE_KELVIN)) {
            limitFault(
                    "cut_off_celsius",
                    cut,
                    NumberRange.plain(top - CEILING_DISTANCE_KELVIN)
                            + " °C or less: at least 0.5 K below "
                            + topWords);
        }
        if (!(warm <= top)) {
            limitFault("too_warm_celsius", warm, "at most " + topWords);
        } else if (!(warm < cut)) {
            limitFault(
                    "too_warm_celsius",
                    warm,
                    "below the cut-off of "
                            + NumberRange.plain(cut)
                            + " °C, so that a person hears before it trips");
        }
        return Optional.of(
                new Limits(
                        new Temperature(cold),
                        new Temperature(warm),
                        new Temperature(cut),
                        new Temperature(top)));
    }

    /** A limit that is not written down has a default, and that is then what was found. */
    private void limitFault(String key, double value, String allowed) {
        section.faultWithFound(
                key,
                NumberRange.plain(value) + " °C" + (section.has(key) ? "" : " (the default)"),
                allowed);
    }

    private List<ProbeReader.ReadProbe> probes() {
        List<TomlSection> sections = section.sections("probe");
        if (sections.size() > MAX_PROBES) {
            section.faultWithFound("probe", sections.size() + " of them", "at most " + MAX_PROBES);
        }
        int simulatedOneWire =
                (int) sections.stream().filter(ProbeReader::isSimulatedOneWire).count();
        List<ProbeReader.ReadProbe> probes = new ArrayList<>();
        Set<String> names = new HashSet<>();
        Set<String> guards = new HashSet<>();
        for (TomlSection probe : sections) {
            new ProbeReader(probe, taken, buses, simulatedOneWire).read().ifPresent(probes::add);
            probe.text("name")
                    .filter(name -> !names.add(name))
                    .ifPresent(
                            name ->
                                    probe.fault(
                                            "name",
                                            "a name that no other probe of this cabinet has"));
            if (probe.flag("guard", false) && !guards.add("guard")) {
                probe.fault("guard", "true at one probe of a cabinet only");
            }
        }
        if (sections.isEmpty()) {
            section.faultWithFound(
                    "probe", "none", "tables [[cabinet.probe]], at least one in the air");
        } else if (probes.size() == sections.size()) {
            checkProbesTogether(probes);
        }
        return probes;
    }

    private void checkProbesTogether(List<ProbeReader.ReadProbe> probes) {
        if (!hasControlProbe(probes)) {
            section.faultWithFound(
                    "probe",
                    "no thermometer in the air that control may use",
                    "at least one probe at top, middle, bottom or a place of your own name, without"
                            + " guard = true");
            return;
        }
        long air = probes.stream().filter(probe -> isAirThermometer(probe.plan())).count();
        if (air == 1) {
            section.warn(
                    "probe",
                    "one thermometer in the air",
                    "nothing would notice if it drifts or falls out, and heat stops when it fails;"
                            + " fit at least a second one.");
        }
    }

    private static boolean isAirThermometer(ProbePlan probe) {
        return probe.place().kind().isAir() && probe.sensor().isThermometer();
    }

    private static boolean hasControlProbe(List<ProbeReader.ReadProbe> probes) {
        return probes.stream()
                .map(ProbeReader.ReadProbe::plan)
                .anyMatch(probe -> isAirThermometer(probe) && !probe.isGuardProbe());
    }

    /** A probe that makes numbers up must never steer a real heater. */
    private void checkAllOrNothingSimulated(
            Optional<OutputWiring> heater, List<ProbeReader.ReadProbe> probes) {
        List<Boolean> simulated = new ArrayList<>();
        for (ProbeReader.ReadProbe probe : probes) {
            simulated.add(probe.wiring().driver() == CabinetSettings.ProbeDriver.SIMULATED);
        }
        for (String key : LineReader.OUTPUTS) {
            section.section(key)
                    .flatMap(LineReader::driver)
                    .ifPresent(driver -> simulated.add(driver == OutputDriver.SIMULATED));
        }
        if (heater.isPresent() && simulated.contains(true) && simulated.contains(false)) {
            section.faultWithFound(
                    "heater",
                    "simulated and real parts in one cabinet",
                    "all probes and outputs simulated, or none: an invented temperature must not"
                            + " steer a real heater");
        }
    }

    private Optional<GuardPlan> guard(Optional<FallbackPlan> fallback) {
        GuardPlan usual = GuardPlan.defaults();
        Optional<TomlSection> there = section.section("guard");
        if (there.isEmpty()) {
            return Optional.of(
                    new GuardPlan(usual.disagreeKelvin(), usual.disagreeSeconds(), fallback));
        }
        return Optional.of(
                new GuardPlan(
                        there.get()
                                .number(
                                        "disagree_kelvin",
                                        NumberRange.above(0, 20, "K"),
                                        usual.disagreeKelvin()),
                        there.get()
                                .number(
                                        "disagree_seconds",
                                        NumberRange.of(0, 86_400, "s"),
                                        usual.disagreeSeconds()),
                        fallback));
    }

    private Optional<CabinetBuild> simulatedBuild(boolean simulated) {
        Optional<TomlSection> there = section.section("simulated");
        if (simulated) {
            return SimulatedCabinetReader.read(section, there);
        }
        if (there.isPresent()) {
            SimulatedCabinetReader.read(section, there);
            section.faultWithFound(
                    "simulated",
                    "a table for a simulated cabinet, but the heater is real",
                    "nothing at a real cabinet");
        }
        return Optional.empty();
    }
}
