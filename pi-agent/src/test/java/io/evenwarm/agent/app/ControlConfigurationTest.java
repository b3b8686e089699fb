package io.evenwarm.agent.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plan.ControlPlan;
import io.evenwarm.agent.plan.HumidityPlan;
import io.evenwarm.agent.plan.KeepingPlan;
import io.evenwarm.agent.plan.ProgrammePlan;
import io.evenwarm.settings.SettingsFault;
import io.evenwarm.settings.SettingsResult;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** What the configuration says of control, programmes and humidity. */
final class ControlConfigurationTest {

    private static final String CABINET =
            """
            [agent]
            name = "egg room"
            [[cabinet]]
            name = "north"
            set_point_celsius = 31.5
            %s
              [[cabinet.probe]]
              name = "top"
              position = "top"
              driver = "one-wire"
              address = "28-0000072431ab"
              [[cabinet.probe]]
              name = "damp"
              position = "middle"
              driver = "hwmon"
              address = "sht3x/humidity1"
              [cabinet.heater]
              driver = "led"
              line = "heater-north"
            %s
            """;

    private static SettingsResult<AgentConfiguration> parse(String keys, String tables) {
        return ConfigurationReader.parse(
                Path.of("/etc/evenwarm/agent.toml"), CABINET.formatted(keys, tables));
    }

    private static CabinetPlan accepted(String keys, String tables) {
        return parse(keys, tables)
                .fold(
                        accepted -> accepted.value().cabinets().get(0).plan(),
                        rejected -> {
                            throw new AssertionError(rejected.errors().toString());
                        });
    }

    private static String fault(String tables) {
        List<SettingsFault> errors =
                parse("", tables)
                        .fold(
                                accepted -> {
                                    throw new AssertionError("accepted");
                                },
                                SettingsResult.Rejected::errors);
        assertEquals(1, errors.size(), errors.toString());
        return errors.get(0).text();
    }

    @Test
    void withoutTablesEggsAreInItAndNothingElseIsDone() {
        assertEquals(KeepingPlan.USUAL, accepted("", "").keeping());
        assertFalse(accepted("holds_eggs = false", "").keeping().holdsEggs());
    }

    /** 86,400 s over 750 operations is 115.2 s. */
    @Test
    void aMechanicalRelayIsNotAskedToSwitchMoreThan750TimesADay() {
        String text = fault("[cabinet.control]\nwindow_seconds = 115");
        assertTrue(text.contains("115 s with a mechanical relay"), text);
        assertTrue(text.contains("115.2 s or more"), text);
        assertTrue(text.contains("750 operations a day"), text);
        assertEquals(
                116,
                accepted("", "[cabinet.control]\nwindow_seconds = 116").control().windowSeconds());
    }

    @Test
    void aSolidStateRelayHasAShortWindow() {
        assertEquals(
                ControlPlan.solidStateDefaults(),
                accepted("", "[cabinet.control]\nrelay = \"solid-state\"").control());
        String text =
                fault(
                        "[cabinet.control]\nrelay = \"solid-state\"\nwindow_seconds = 4\n"
                                + "minimum_on_seconds = 3\nminimum_off_seconds = 2");
        assertTrue(text.contains("a window that holds both minimum times"), text);
    }

    @Test
    void whatTuneProposesIsTakenAsItStands() {
        ControlPlan tuned =
                accepted(
                                "",
                                """
                                [cabinet.control]
                                gain_per_kelvin = 1.25
                                integral_seconds = 480
                                derivative_seconds = 20
                                gain_follows_duty = false
                                rated_operations = 50000
                                """)
                        .control();
        assertEquals(ControlPlan.defaults().tuned(1.25, 480, 20).gainFollowsDuty(), false);
        assertEquals(1.25, tuned.gainPerKelvin());
        assertFalse(tuned.gainFollowsDuty());
        assertEquals(50_000, tuned.ratedOperations());
    }

    @Test
    void aNightlyDropIsRead() {
        ProgrammePlan night =
                accepted(
                                "",
                                """
                                [cabinet.programme]
                                clock = "time-of-day"
                                down_kelvin_per_hour = 0.5
                                  [[cabinet.programme.step]]
                                  at = "06:30"
                                  offset_kelvin = 0
                                  [[cabinet.programme.step]]
                                  at = "22:00"
                                  offset_kelvin = -2
                                """)
                        .keeping()
                        .programme()
                        .orElseThrow();
        assertEquals(
                new ProgrammePlan(
                        List.of(
                                new ProgrammePlan.Step(6.5 * 3600, 0),
                                new ProgrammePlan.Step(22 * 3600, -2)),
                        ProgrammePlan.Clock.TIME_OF_DAY,
                        1,
                        0.5),
                night);
    }

    @Test
    void aProgrammeThatComesTooNearToTheCutOffOrGoesBackInTimeIsRefused() {
        String warm =
                fault(
                        "[cabinet.programme]\nclock = \"since-start\"\n"
                                + "[[cabinet.programme.step]]\nafter_hours = 1\noffset_kelvin = 1.5");
        assertTrue(warm.contains("at most 1 K: the set point stays 1 K below the cut-off"), warm);
        String back =
                fault(
                        """
                        [cabinet.programme]
                        clock = "time-of-day"
                        [[cabinet.programme.step]]
                        at = "22:00"
                        offset_kelvin = -1
                        [[cabinet.programme.step]]
                        at = "06:00"
                        offset_kelvin = 0
                        """);
        assertTrue(back.contains("later than the step before it"), back);
        String noTime =
                fault(
                        "[cabinet.programme]\nclock = \"time-of-day\"\n"
                                + "[[cabinet.programme.step]]\nat = \"24:00\"\noffset_kelvin = -1");
        assertTrue(noTime.contains("a time of day as \"22:00\""), noTime);
        assertTrue(
                fault("[cabinet.programme]\nclock = \"time-of-day\"").contains("programme.step"));
    }

    @Test
    void humidityNeedsSomethingToActWith() {
        assertEquals(
                Optional.of(new HumidityPlan(85, 6, 60)),
                accepted(
                                "",
                                """
                                [cabinet.humidifier]
                                driver = "led"
                                line = "mist"
                                [cabinet.humidity]
                                target_percent = 85
                                """)
                        .keeping()
                        .humidity());
        String text = fault("[cabinet.humidity]\ntarget_percent = 85");
        assertTrue(text.contains("neither [cabinet.humidifier] nor [cabinet.vent]"), text);
    }
}
