package io.evenwarm.agent.app;

import io.evenwarm.agent.plan.HumidityPlan;
import io.evenwarm.agent.plan.KeepingPlan;
import io.evenwarm.agent.plan.ProbePlan;
import io.evenwarm.agent.plan.ProgrammePlan;
import io.evenwarm.message.Limits;
import io.evenwarm.settings.NumberRange;
import io.evenwarm.settings.TomlSection;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Reads {@code holds_eggs}, {@code [cabinet.programme]} and {@code [cabinet.humidity]}. */
final class KeepingReader {

    private static final String TIME_OF_DAY = "time-of-day";
    private static final String SINCE_START = "since-start";
    private static final Pattern TIME = Pattern.compile("([01][0-9]|2[0-3]):([0-5][0-9])");
    private static final String TIME_FORM = "a time of day as \"22:00\"";
    private static final NumberRange OFFSET = NumberRange.of(-10, 10, "K");
    private static final NumberRange RATE = NumberRange.of(0.05, 60, "K/h");
    private static final NumberRange HOURS = NumberRange.of(0, 400 * 24, "h");
    private static final double USUAL_RATE = 1;
    private static final double SECONDS_PER_HOUR = 3600;
    private static final double SECONDS_PER_MINUTE = 60;
    private static final double CUT_OFF_DISTANCE_KELVIN = 1;
    private static final double USUAL_DEAD_BAND = 6;
    private static final double USUAL_SHORTEST_SECONDS = 60;

    private final TomlSection cabinet;
    private boolean hasFault;

    KeepingReader(TomlSection cabinet) {
        this.cabinet = cabinet;
    }

    /** The plan; empty when faults were added. */
    Optional<KeepingPlan> read(
            OptionalDouble setPoint,
            Optional<Limits> limits,
            List<ProbePlan> probes,
            boolean actsOnMoisture) {
        boolean holdsEggs = cabinet.flag("holds_eggs", true);
        Optional<ProgrammePlan> programme =
                cabinet.section("programme").flatMap(there -> programme(there, setPoint, limits));
        Optional<HumidityPlan> humidity =
                cabinet.section("humidity")
                        .flatMap(there -> humidity(there, probes, actsOnMoisture));
        return hasFault
                ? Optional.empty()
                : Optional.of(new KeepingPlan(holdsEggs, programme, humidity));
    }

    private Optional<ProgrammePlan> programme(
            TomlSection programme, OptionalDouble setPoint, Optional<Limits> limits) {
        Optional<String> clock = programme.requiredWord("clock", List.of(TIME_OF_DAY, SINCE_START));
        double up = programme.number("up_kelvin_per_hour", RATE, USUAL_RATE);
        double down = programme.number("down_kelvin_per_hour", RATE, USUAL_RATE);
        List<TomlSection> sections = programme.sections("step");
        if (sections.isEmpty()) {
            programme.faultWithFound("step", "none", "tables [[cabinet.programme.step]]");
        }
        boolean isOfDay = clock.equals(Optional.of(TIME_OF_DAY));
        List<ProgrammePlan.Step> steps = new ArrayList<>();
        for (TomlSection each : sections) {
            step(each, clock.isPresent(), isOfDay, setPoint, limits)
                    .filter(step -> isLater(each, step, steps, isOfDay))
                    .ifPresent(steps::add);
        }
        if (clock.isEmpty() || sections.isEmpty() || steps.size() < sections.size()) {
            hasFault = true;
            return Optional.empty();
        }
        return Optional.of(
                new ProgrammePlan(
                        steps,
                        isOfDay ? ProgrammePlan.Clock.TIME_OF_DAY : ProgrammePlan.Clock.SINCE_START,
                        up,
                        down));
    }

    private static Optional<ProgrammePlan.Step> step(
            TomlSection section,
            boolean isClockKnown,
            boolean isOfDay,
            OptionalDouble setPoint,
            Optional<Limits> limits) {
        section.allow("at", "after_hours");
        OptionalDouble offset = section.requiredNumber("offset_kelvin", OFFSET);
        if (!isClockKnown || offset.isEmpty()) {
            return Optional.empty();
        }
        if (setPoint.isPresent() && limits.isPresent()) {
            double most =
                    limits.get().cutOff().celsius()
                            - CUT_OFF_DISTANCE_KELVIN
                            - setPoint.getAsDouble();
            if (offset.getAsDouble() > most + 1e-9) {
                section.fault(
                        "offset_kelvin",
                        "at most "
                                + NumberRange.plain(Math.max(0, most))
                                + " K: the set point stays 1 K below the cut-off");
                return Optional.empty();
            }
        }
        if (isOfDay) {
            Optional<Double> at =
                    section.requiredParsed("at", TIME_FORM, KeepingReader::secondsOfDay);
            return at.map(seconds -> new ProgrammePlan.Step(seconds, offset.getAsDouble()));
        }
        OptionalDouble after = section.requiredNumber("after_hours", HOURS);
        return after.isEmpty()
                ? Optional.empty()
                : Optional.of(
                        new ProgrammePlan.Step(
                                after.getAsDouble() * SECONDS_PER_HOUR, offset.getAsDouble()));
    }

    private static double secondsOfDay(String text) {
        Matcher time = TIME.matcher(text);
        if (!time.matches()) {
            throw new IllegalArgumentException(TIME_FORM);
        }
        return Integer.parseInt(time.group(1)) * SECONDS_PER_HOUR
                + Integer.parseInt(time.group(2)) * SECONDS_PER_MINUTE;
    }

    private static boolean isLater(
            TomlSection section,
            ProgrammePlan.Step step,
            List<ProgrammePlan.Step> before,
            boolean isOfDay) {
        if (before.isEmpty() || step.atSeconds() > before.get(before.size() - 1).atSeconds()) {
            return true;
        }
        section.fault(isOfDay ? "at" : "after_hours", "later than the step before it");
        return false;
    }

    private Optional<HumidityPlan> humidity(
            TomlSection humidity, List<ProbePlan> probes, boolean actsOnMoisture) {
        OptionalDouble target =
                humidity.requiredNumber("target_percent", NumberRange.of(10, 98, "%"));
        double band =
                humidity.number("dead_band_percent", NumberRange.of(1, 30, "%"), USUAL_DEAD_BAND);
        double shortest =
                humidity.number(
                        "shortest_seconds", NumberRange.of(1, 3600, "s"), USUAL_SHORTEST_SECONDS);
        if (!actsOnMoisture) {
            humidity.faultWithFound(
                    "target_percent",
                    "neither [cabinet.humidifier] nor [cabinet.vent]",
                    "at least one of them, or no [cabinet.humidity]");
            hasFault = true;
        }
        boolean hasHygrometer =
                probes.stream()
                        .anyMatch(
                                probe ->
                                        !probe.sensor().isThermometer()
                                                && probe.place().kind().isAir());
        if (!probes.isEmpty() && !hasHygrometer) {
            humidity.faultWithFound(
                    "target_percent",
                    "no hygrometer in the air",
                    "a probe that measures humidity, or no [cabinet.humidity]");
            hasFault = true;
        }
        if (target.isEmpty()) {
            hasFault = true;
            return Optional.empty();
        }
        return Optional.of(new HumidityPlan(target.getAsDouble(), band, shortest));
    }
}
