package io.evenwarm.monitor.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.CabinetName;
import io.evenwarm.monitor.alarm.CabinetLimits;
import io.evenwarm.monitor.alarm.NewtonTimeLeft.Assumptions;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.settings.SettingsFault;
import io.evenwarm.settings.SettingsResult;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Random;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;

/** The monitor's own limits are read whole, a cabinet's over those of all, and never nonsense. */
final class AlarmSettingsTest {

    private static final String AGENT =
            "[[agent]]\nname = \"egg room\"\nserial = \"/dev/ttyACM0\"\n";
    private static final CabinetKey NORTH =
            new CabinetKey(new AgentName("egg room"), new CabinetName("north"));
    private static final CabinetKey SOUTH =
            new CabinetKey(new AgentName("egg room"), new CabinetName("south"));

    private static SettingsResult<MonitorSettings> read(String... lines) {
        return SettingsReader.parse(
                Path.of("/etc/evenwarm/monitor.toml"),
                AGENT + String.join("\n", lines),
                Folders.of(Map.of(), "/home/keeper"));
    }

    private static MonitorSettings accepted(String... lines) {
        return read(lines)
                .fold(
                        accepted -> accepted.value(),
                        rejected -> {
                            throw new AssertionError(rejected.errors().toString());
                        });
    }

    /** The faults in words, a line each; empty when there are none. */
    private static String faults(String... lines) {
        return read(lines)
                .fold(
                        accepted -> "",
                        rejected ->
                                rejected.errors().stream()
                                        .map(SettingsFault::text)
                                        .collect(Collectors.joining("\n")))
                .replace("/etc/evenwarm/", "")
                .replace("\n    found ", ": found ")
                .replace("; allowed: ", ", allowed: ");
    }

    private static CabinetLimits of(MonitorSettings settings, CabinetKey key) {
        return settings.alarms()
                .settings()
                .cabinets()
                .getOrDefault(key, settings.alarms().settings().defaults());
    }

    @Test
    void withoutAnyTheUsualLimitsCount() {
        assertEquals(AlarmPlan.DEFAULT, accepted().alarms());
        assertEquals(Optional.empty(), accepted().person());
        assertEquals(AlarmPlan.DEFAULT, accepted("[alarms]", "[time_left]").alarms());
    }

    @Test
    void everyKeyIsReadAndACabinetsOwnCountsOverThatForAll() {
        MonitorSettings settings =
                accepted(
                        "[monitor]",
                        "person = \"Anna\"",
                        "[alarms]",
                        "look_below_kelvin = 1.5",
                        "act_below_kelvin = 3",
                        "look_above_kelvin = 0.8",
                        "act_above_kelvin = 1.6",
                        "look_minutes = 20",
                        "act_cold_minutes = 15",
                        "act_warm_seconds = 30",
                        "uneven_kelvin = 2",
                        "uneven_minutes = 45",
                        "disagree_kelvin = 1",
                        "disagree_minutes = 5",
                        "dry_percent = 40",
                        "damp_percent = 90",
                        "humidity_minutes = 90",
                        "[[alarms.cabinet]]",
                        "agent = \"egg room\"",
                        "name = \"north\"",
                        "look_below_kelvin = 2",
                        "damp_percent = 95");
        CabinetLimits south = of(settings, SOUTH);
        assertEquals(
                new CabinetLimits(
                        new CabinetLimits.Air(
                                OptionalDouble.of(1.5),
                                OptionalDouble.of(0.8),
                                OptionalDouble.of(3),
                                OptionalDouble.of(1.6),
                                CabinetLimits.DEFAULT.air().deadBandKelvin(),
                                Duration.ofMinutes(20),
                                Duration.ofMinutes(15),
                                Duration.ofSeconds(30),
                                CabinetLimits.DEFAULT.air().offDelay()),
                        new CabinetLimits.Spread(
                                2,
                                Duration.ofMinutes(45),
                                1,
                                Duration.ofMinutes(5),
                                CabinetLimits.DEFAULT.spread().deadBandKelvin(),
                                CabinetLimits.DEFAULT.spread().offDelay()),
                        new CabinetLimits.Humidity(
                                40,
                                90,
                                CabinetLimits.DEFAULT.humidity().deadBandPercent(),
                                Duration.ofMinutes(90),
                                CabinetLimits.DEFAULT.humidity().offDelay())),
                south);
        CabinetLimits north = of(settings, NORTH);
        assertEquals(OptionalDouble.of(2), north.air().lookBelowKelvin());
        assertEquals(OptionalDouble.of(3), north.air().actBelowKelvin());
        assertEquals(95, north.humidity().dampPercent());
        assertEquals(south.spread(), north.spread());
        assertEquals(Optional.of("Anna"), settings.person());
    }

    @Test
    void theAssumptionsOfTheTimeLeftAreRead() {
        assertEquals(
                new Assumptions(22, 7200, 15, 3, 28, 1, 3, 35),
                accepted(
                                "[time_left]",
                                "cold_limit_celsius = 22",
                                "time_constant_minutes = 120",
                                "cold_room_celsius = 15",
                                "room_fall_kelvin = 3",
                                "warm_room_celsius = 28",
                                "room_rise_kelvin = 1",
                                "fan_kelvin = 3",
                                "full_heat_kelvin = 35")
                        .alarms()
                        .timeLeft());
        assertTrue(
                faults("[time_left]", "cold_room_celsius = 25", "warm_room_celsius = 20")
                        .contains(
                                "warm_room_celsius: found 20, allowed: a number from 25 to 60 °C"),
                faults("[time_left]", "cold_room_celsius = 25", "warm_room_celsius = 20"));
    }

    @Test
    void allFaultsAreNamedAtOnceWithPlaceFoundAndAllowed() {
        String faults =
                faults(
                        "[alarms]",
                        "look_below_kelvin = 2",
                        "act_below_kelvin = 1.5",
                        "look_above_kelvin = \"warm\"",
                        "dry_percent = 60",
                        "damp_percent = 62",
                        "uneven_kelvn = 2",
                        "[[alarms.cabinet]]",
                        "agent = \"egg rom\"",
                        "name = \"north\"",
                        "look_minutes = 10",
                        "act_cold_minutes = 11",
                        "[[alarms.cabinet]]",
                        "agent = \"egg room\"",
                        "name = \"north\"",
                        "look_above_kelvin = 1",
                        "[[alarms.cabinet]]",
                        "agent = \"egg room\"",
                        "name = \"north\"");
        for (String words :
                List.of(
                        "monitor.toml, line 6: alarms / act_below_kelvin: found 1.5, allowed: a number"
                                + " above 2 and up to 10 K, beyond look_below_kelvin, which is 2",
                        "alarms / look_above_kelvin: found \"warm\"",
                        "damp_percent: found 62, allowed: a number from 65 to 100 %, since"
                                + " dry_percent is 60",
                        "uneven_kelvn: found an unknown key, allowed: uneven_kelvin (did you mean"
                                + " that?)",
                        "alarms / cabinet \"north\" / agent: found \"egg rom\", allowed: one of egg"
                                + " room (did you mean egg room?)",
                        "act_cold_minutes: found 11, allowed: a whole number from 1 to 10 minutes",
                        "act_above_kelvin: found nothing, allowed: a number above 1 and up to 10 K,"
                                + " since look_above_kelvin is 1",
                        "name: found \"north\", allowed: a cabinet that no other [[alarms.cabinet]]"
                                + " is about")) {
            assertTrue(faults.contains(words), () -> words + "\nnot in\n" + faults);
        }
    }

    @Test
    void aLimitToActAtNeedsOneToLookAtSinceTheAgentsOwnIsNotKnownHere() {
        String faults = faults("[alarms]", "act_below_kelvin = 0.5");
        assertTrue(
                faults.contains(
                        "look_below_kelvin: found nothing, allowed: a number from 0.3 to less than"
                                + " 0.5 K, since act_below_kelvin is there"),
                faults);
        assertEquals(
                OptionalDouble.of(4),
                of(accepted("[alarms]", "look_below_kelvin = 4"), NORTH).air().lookBelowKelvin());
    }

    @Test
    void whatACabinetSaysIsCheckedAgainstWhatCountsForAll() {
        String faults =
                faults(
                        "[alarms]",
                        "look_below_kelvin = 1",
                        "act_below_kelvin = 2",
                        "dry_percent = 40",
                        "[[alarms.cabinet]]",
                        "agent = \"egg room\"",
                        "name = \"north\"",
                        "look_below_kelvin = 2.5",
                        "damp_percent = 42");
        assertTrue(
                faults.contains(
                        "look_below_kelvin: found 2.5, allowed: less than act_below_kelvin, which"
                                + " is 2 K for all cabinets"),
                faults);
        assertTrue(faults.contains("damp_percent: found 42, allowed: a number from 45"), faults);
    }

    /** Whatever is written there: either a fault is named, or the limits are in their order. */
    @Test
    void noSettingsWhateverTheyAreMakeLimitsOutOfOrder() {
        Random random = new Random(20_260_601);
        String[] keys = {
            "look_below_kelvin",
            "act_below_kelvin",
            "look_above_kelvin",
            "act_above_kelvin",
            "dry_percent",
            "damp_percent",
            "look_minutes",
            "act_cold_minutes",
            "act_warm_seconds"
        };
        int accepted = 0;
        for (int round = 0; round < 2000; round++) {
            StringBuilder text = new StringBuilder("[alarms]\n");
            write(text, keys, random);
            text.append("[[alarms.cabinet]]\nagent = \"egg room\"\nname = \"north\"\n");
            write(text, keys, random);
            Optional<MonitorSettings> settings =
                    read(text.toString())
                            .fold(its -> Optional.of(its.value()), rejected -> Optional.empty());
            if (settings.isPresent()) {
                accepted++;
                requireOrder(of(settings.get(), NORTH), text.toString());
                requireOrder(of(settings.get(), SOUTH), text.toString());
            }
        }
        assertTrue(accepted > 100, "only " + accepted + " were accepted");
    }

    private static void write(StringBuilder text, String[] keys, Random random) {
        for (String key : keys) {
            if (random.nextInt(4) == 0) {
                String value =
                        key.endsWith("kelvin")
                                ? String.format(Locale.ROOT, "%.1f", random.nextDouble() * 11)
                                : Integer.toString(random.nextInt(101));
                text.append(key).append(" = ").append(value).append('\n');
            }
        }
    }

    private static void requireOrder(CabinetLimits limits, String text) {
        CabinetLimits.Air air = limits.air();
        assertTrue(
                air.actBelowKelvin().isEmpty()
                        || (air.lookBelowKelvin().isPresent()
                                && air.actBelowKelvin().getAsDouble()
                                        > air.lookBelowKelvin().getAsDouble()),
                text);
        assertEquals(air.lookAboveKelvin().isPresent(), air.actAboveKelvin().isPresent(), text);
        assertTrue(
                air.lookAboveKelvin().isEmpty()
                        || air.actAboveKelvin().getAsDouble() > air.lookAboveKelvin().getAsDouble(),
                text);
        assertTrue(air.actColdDelay().compareTo(air.lookDelay()) <= 0, text);
        assertTrue(air.actWarmDelay().compareTo(air.lookDelay()) <= 0, text);
        assertTrue(
                limits.humidity().dampPercent() - limits.humidity().dryPercent() >= 5
                        && limits.humidity().dampPercent() <= 100,
                text);
    }
}
