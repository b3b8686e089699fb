package io.evenwarm.monitor.app;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.CabinetName;
import io.evenwarm.monitor.alarm.AlarmSettings;
import io.evenwarm.monitor.alarm.AlarmTimes;
import io.evenwarm.monitor.alarm.CabinetLimits;
import io.evenwarm.monitor.alarm.CabinetLimits.Air;
import io.evenwarm.monitor.alarm.CabinetLimits.Humidity;
import io.evenwarm.monitor.alarm.CabinetLimits.Spread;
import io.evenwarm.monitor.alarm.NewtonTimeLeft.Assumptions;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.settings.NumberRange;
import io.evenwarm.settings.TomlSection;
import java.time.Duration;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * Reads {@code [alarms]}, {@code [[alarms.cabinet]]} and {@code [time_left]}. What a cabinet does
 * not say counts for it as for all.
 */
final class AlarmSettingsReader {

    private static final int CABINETS_MAX = 256;
    private static final String CABINET_FORM = "the cabinet's name, as in its agent's settings";

    /** Further away, a limit would stand beyond what eggs bear at any set point. */
    private static final double AIR_MAX = 10;

    /**
     * Wider than the dead band of 0.2 K, so that an alarm at the limit can end at the set point.
     */
    private static final NumberRange AIR = NumberRange.of(0.3, AIR_MAX, "K");

    /** Wider than the dead band of 0.3 K. */
    private static final NumberRange SPREAD = NumberRange.of(0.5, AIR_MAX, "K");

    /** Dry and damp stand further apart than both dead bands together. */
    private static final double HUMIDITY_APART_MIN = 5;

    private static final NumberRange DRY = NumberRange.of(0, 100 - HUMIDITY_APART_MIN, "%");
    private static final int LOOK_MINUTES_MIN = 5;
    private static final int LOOK_MINUTES_MAX = 240;

    /** As long as the shortest time for "look": "act now" never comes after it. */
    private static final int ACT_WARM_SECONDS_MAX = 60 * LOOK_MINUTES_MIN;

    private static final int MINUTES_MAX = 240;
    private static final double KELVIN_MAX = 60;

    private AlarmSettingsReader() {}

    /**
     * Reads all of it; what is wrong becomes a fault of its section.
     *
     * @param agents the names of all agents of these settings
     */
    static AlarmPlan read(TomlSection top, List<String> agents) {
        Optional<TomlSection> alarms = top.section("alarms");
        CabinetLimits all =
                alarms.map(section -> limits(section, CabinetLimits.DEFAULT))
                        .orElse(CabinetLimits.DEFAULT);
        Map<CabinetKey, CabinetLimits> cabinets = new HashMap<>();
        alarms.ifPresent(section -> cabinets(section, all, agents, cabinets));
        return new AlarmPlan(
                new AlarmSettings(AlarmTimes.DEFAULT, all, cabinets),
                top.section("time_left")
                        .map(AlarmSettingsReader::assumptions)
                        .orElse(Assumptions.DEFAULT));
    }

    private static void cabinets(
            TomlSection alarms,
            CabinetLimits all,
            List<String> agents,
            Map<CabinetKey, CabinetLimits> cabinets) {
        List<TomlSection> sections = alarms.sections("cabinet");
        if (sections.size() > CABINETS_MAX) {
            alarms.faultWithFound(
                    "cabinet",
                    sections.size() + " of them",
                    "up to " + CABINETS_MAX + " [[alarms.cabinet]]");
        }
        for (TomlSection section : sections) {
            Optional<CabinetName> name =
                    section.requiredParsed("name", CABINET_FORM, CabinetName::new);
            Optional<String> agent =
                    agents.isEmpty()
                            ? section.requiredText("agent", "the name of an [[agent]]")
                            : section.requiredWord("agent", agents);
            CabinetLimits limits = limits(section, all);
            if (name.isEmpty() || agent.isEmpty()) {
                continue;
            }
            if (agents.isEmpty()) {
                section.fault("agent", "the name of an [[agent]], of which there is none");
                continue;
            }
            CabinetKey key = new CabinetKey(new AgentName(agent.get()), name.get());
            if (cabinets.putIfAbsent(key, limits) != null) {
                section.fault("name", "a cabinet that no other [[alarms.cabinet]] is about");
            }
        }
    }

    private static CabinetLimits limits(TomlSection section, CabinetLimits all) {
        return new CabinetLimits(
                air(section, all.air()),
                spread(section, all.spread()),
                humidity(section, all.humidity()));
    }

    private static Air air(TomlSection section, Air all) {
        Pair below =
                pair(
                        section,
                        new Pair(all.lookBelowKelvin(), all.actBelowKelvin()),
                        "look_below_kelvin",
                        "act_below_kelvin");
        Pair above =
                pair(
                        section,
                        new Pair(all.lookAboveKelvin(), all.actAboveKelvin()),
                        "look_above_kelvin",
                        "act_above_kelvin");
        // Its agent's cut-off, which counts else, may lie inside; with cold, "act" follows "look".
        if (above.look().isPresent()
                && above.act().isEmpty()
                && section.has("look_above_kelvin")
                && !section.has("act_above_kelvin")) {
            section.faultWithFound(
                    "act_above_kelvin",
                    "nothing",
                    range(above.look().getAsDouble()).words()
                            + ", since look_above_kelvin is "
                            + NumberRange.plain(above.look().getAsDouble()));
        }
        Duration look =
                minutes(
                        section,
                        "look_minutes",
                        LOOK_MINUTES_MIN,
                        LOOK_MINUTES_MAX,
                        all.lookDelay());
        int lookMinutes = (int) look.toMinutes();
        Duration actCold =
                minutes(
                        section,
                        "act_cold_minutes",
                        1,
                        lookMinutes,
                        all.actColdDelay().compareTo(look) > 0 ? look : all.actColdDelay());
        Duration actWarm =
                section.whole("act_warm_seconds", 1, ACT_WARM_SECONDS_MAX, "s").stream()
                        .mapToObj(Duration::ofSeconds)
                        .findFirst()
                        .orElse(all.actWarmDelay());
        return new Air(
                below.look(),
                above.look(),
                below.act(),
                above.act(),
                all.deadBandKelvin(),
                look,
                actCold,
                actWarm,
                all.offDelay());
    }

    /** A distance from the set point to look at, and one to act at. */
    private record Pair(OptionalDouble look, OptionalDouble act) {}

    /**
     * Both distances: the section's own, or as for all. Where they are in the wrong order it is a
     * fault, and those for all count so that the rest can be read.
     */
    private static Pair pair(TomlSection section, Pair all, String lookKey, String actKey) {
        OptionalDouble look = section.number(lookKey, AIR);
        OptionalDouble act = section.number(actKey, AIR);
        Pair both =
                new Pair(look.isPresent() ? look : all.look(), act.isPresent() ? act : all.act());
        if (act.isPresent() && both.look().isEmpty()) {
            // Where the agent's own limit lies is not known here: "act" might lie inside it.
            if (!section.has(lookKey)) {
                section.faultWithFound(
                        lookKey,
                        "nothing",
                        "a number from 0.3 to less than "
                                + NumberRange.plain(act.getAsDouble())
                                + " K, since "
                                + actKey
                                + " is there");
            }
            return all;
        }
        if (both.look().isPresent()
                && both.act().isPresent()
                && both.act().getAsDouble() <= both.look().getAsDouble()) {
            if (act.isPresent()) {
                section.fault(
                        actKey,
                        range(both.look().getAsDouble()).words()
                                + ", beyond "
                                + lookKey
                                + ", which is "
                                + NumberRange.plain(both.look().getAsDouble()));
            } else {
                section.fault(
                        lookKey,
                        "less than "
                                + actKey
                                + ", which is "
                                + NumberRange.plain(both.act().getAsDouble())
                                + " K for all cabinets");
            }
            return all;
        }
        return both;
    }

    /** Beyond a distance to look at. */
    private static NumberRange range(double look) {
        return NumberRange.above(Math.min(look, AIR_MAX), AIR_MAX, "K");
    }

    private static Spread spread(TomlSection section, Spread all) {
        return new Spread(
                section.number("uneven_kelvin", SPREAD, all.unevenKelvin()),
                minutes(section, "uneven_minutes", 1, MINUTES_MAX, all.unevenDelay()),
                section.number("disagree_kelvin", SPREAD, all.disagreeKelvin()),
                minutes(section, "disagree_minutes", 1, MINUTES_MAX, all.disagreeDelay()),
                all.deadBandKelvin(),
                all.offDelay());
    }

    private static Humidity humidity(TomlSection section, Humidity all) {
        OptionalDouble ownDry = section.number("dry_percent", DRY);
        OptionalDouble ownDamp =
                section.number("damp_percent", NumberRange.of(HUMIDITY_APART_MIN, 100, "%"));
        double dry = ownDry.orElse(all.dryPercent());
        double damp = ownDamp.orElse(all.dampPercent());
        boolean isOrdered = damp - dry >= HUMIDITY_APART_MIN;
        if (!isOrdered && ownDamp.isPresent()) {
            section.fault(
                    "damp_percent",
                    NumberRange.of(dry + HUMIDITY_APART_MIN, 100, "%").words()
                            + ", since dry_percent is "
                            + NumberRange.plain(dry));
        } else if (!isOrdered) {
            section.fault(
                    "dry_percent",
                    NumberRange.of(0, damp - HUMIDITY_APART_MIN, "%").words()
                            + ", since damp_percent is "
                            + NumberRange.plain(damp));
        }
        return new Humidity(
                isOrdered ? dry : all.dryPercent(),
                isOrdered ? damp : all.dampPercent(),
                all.deadBandPercent(),
                minutes(section, "humidity_minutes", 1, MINUTES_MAX, all.onDelay()),
                all.offDelay());
    }

    private static Duration minutes(
            TomlSection section, String key, int min, int max, Duration otherwise) {
        return section.whole(key, min, max, "minutes").stream()
                .mapToObj(Duration::ofMinutes)
                .findFirst()
                .orElse(otherwise);
    }

    private static Assumptions assumptions(TomlSection section) {
        Assumptions usual = Assumptions.DEFAULT;
        double coldRoom =
                section.number(
                        "cold_room_celsius",
                        NumberRange.of(-40, 30, "°C"),
                        usual.coldRoomCelsius());
        double warmRoom =
                section.number(
                        "warm_room_celsius",
                        NumberRange.of(coldRoom, KELVIN_MAX, "°C"),
                        Math.max(coldRoom, usual.warmRoomCelsius()));
        double fan = section.number("fan_kelvin", kelvin(0, 20), usual.fanKelvin());
        return new Assumptions(
                section.number(
                        "cold_limit_celsius",
                        NumberRange.of(5, 30, "°C"),
                        usual.coldLimitCelsius()),
                section.number(
                                "time_constant_minutes",
                                NumberRange.of(10, 3000, "minutes"),
                                usual.timeConstantSeconds() / 60)
                        * 60,
                coldRoom,
                section.number("room_fall_kelvin", kelvin(0, 30), usual.roomFallKelvin()),
                warmRoom,
                section.number("room_rise_kelvin", kelvin(0, 30), usual.roomRiseKelvin()),
                fan,
                section.number(
                        "full_heat_kelvin",
                        kelvin(Math.max(1, fan), 200),
                        Math.max(fan, usual.fullHeatKelvin())));
    }

    private static NumberRange kelvin(double min, double max) {
        return NumberRange.of(min, max, "K");
    }
}
