package io.evenwarm.agent.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.app.CabinetSettings.InputWiring;
import io.evenwarm.agent.app.CabinetSettings.InputWirings;
import io.evenwarm.agent.app.CabinetSettings.OutputDriver;
import io.evenwarm.agent.app.CabinetSettings.OutputWiring;
import io.evenwarm.agent.app.CabinetSettings.ProbeDriver;
import io.evenwarm.agent.app.CabinetSettings.ProbeWiring;
import io.evenwarm.agent.driver.pi4j.GpioPull;
import io.evenwarm.agent.plan.ControlPlan;
import io.evenwarm.agent.plan.ProbePlan;
import io.evenwarm.agent.plant.PlantFault;
import io.evenwarm.agent.rehearsal.Scenario;
import io.evenwarm.message.Limits;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.quantity.Temperature;
import io.evenwarm.settings.SettingsFault;
import io.evenwarm.settings.SettingsResult;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

final class ConfigurationReaderTest {

    private static final Path FILE = Path.of("/etc/evenwarm/agent.toml");

    private static final String AGENT =
            """
            [agent]
            name = "egg room"
            [link.tls]
            listen = "127.0.0.1:4770"
            trusted_keys = ["sha256:%s"]
            """
                    .formatted("0f".repeat(32));

    private static final String CABINET =
            """
            [[cabinet]]
            name = "north"
            set_point_celsius = 31.5
              [[cabinet.probe]]
              name = "top"
              position = "top"
              driver = "one-wire"
              address = "28-0000072431ab"
              [[cabinet.probe]]
              name = "bottom"
              position = "bottom"
              driver = "one-wire"
              address = "28-0000072431ac"
              [cabinet.heater]
              driver = "led"
              line = "heater-north"
              [cabinet.cut_off_relay]
              driver = "led"
              line = "cut-off-north"
            """;

    private static AgentConfiguration accepted(String text) {
        SettingsResult<AgentConfiguration> result = ConfigurationReader.parse(FILE, text);
        return result.fold(
                SettingsResult.Accepted::value,
                rejected -> {
                    throw new AssertionError(texts(rejected.errors()));
                });
    }

    private static List<SettingsFault> errors(String text) {
        return ConfigurationReader.parse(FILE, text)
                .fold(
                        accepted -> {
                            throw new AssertionError("accepted, warnings " + accepted.warnings());
                        },
                        SettingsResult.Rejected::errors);
    }

    private static String onlyError(String text) {
        List<SettingsFault> errors = errors(text);
        assertEquals(1, errors.size(), texts(errors));
        return errors.get(0).text();
    }

    private static String texts(List<SettingsFault> faults) {
        return String.join("\n", faults.stream().map(SettingsFault::text).toList());
    }

    @Test
    void aSmallConfigurationIsAcceptedWithItsDefaults() {
        AgentConfiguration configuration = accepted(AGENT + CABINET);

        assertEquals("egg room", configuration.name().value());
        assertEquals(Path.of("/var/lib/evenwarm"), configuration.stateFolder());
        assertEquals(new AgentConfiguration.JournalPlan(5, 10, 400, 2000), configuration.journal());
        assertEquals(Path.of("/sys/bus/w1/devices"), configuration.roots().oneWire());
        assertEquals(4770, configuration.tls().orElseThrow().port());
        assertEquals(
                AgentConfiguration.Announce.WHILE_PAIRING,
                configuration.tls().orElseThrow().announce());
        assertEquals(Optional.empty(), configuration.serial());
        CabinetSettings north = configuration.cabinets().get(0);
        assertEquals(
                new Limits(
                        new Temperature(30.5),
                        new Temperature(32.5),
                        new Temperature(33.5),
                        new Temperature(34.5)),
                north.plan().limits());
        assertEquals(ControlPlan.defaults(), north.plan().control());
        assertEquals(ProbePlace.TOP, north.plan().probes().get(0).place());
        assertEquals(ProbePlan.Sensor.DS18B20, north.plan().probes().get(0).sensor());
        assertEquals(
                new ProbeWiring(ProbeDriver.ONE_WIRE, "28-0000072431ac"), north.probes().get(1));
        assertEquals(
                new OutputWiring(OutputDriver.LED, "heater-north", false, false), north.heater());
        assertTrue(north.plan().hasCutOffRelay());
        assertFalse(north.plan().drivesFan());
        assertEquals(List.of(), ConfigurationReader.parse(FILE, AGENT + CABINET).warnings());
    }

    @Test
    void relativePathsStartAtTheFilesFolder() {
        AgentConfiguration configuration =
                accepted(
                        AGENT.replace("[link", "state_folder = \"state\"\n[link")
                                + "[sensors]\nled_folder = \"../leds\"\n"
                                + CABINET);

        assertEquals(Path.of("/etc/evenwarm/state"), configuration.stateFolder());
        assertEquals(Path.of("/etc/leds"), configuration.roots().led());
    }

    @Test
    void aSimulatedCabinetNeedsOnlyItsProbesAndDrivers() {
        AgentConfiguration configuration =
                accepted(
                        AGENT
                                + """
                                [simulation]
                                seed = 7
                                speed = 60
                                clock_is_set = true
                                [[cabinet]]
                                name = "north"
                                set_point_celsius = 31.5
                                  [[cabinet.probe]]
                                  name = "top"
                                  position = "top"
                                  driver = "simulated"
                                  [[cabinet.probe]]
                                  name = "damp"
                                  position = "middle"
                                  driver = "simulated"
                                  sensor = "hygrometer"
                                  [cabinet.heater]
                                  driver = "simulated"
                                  [cabinet.simulated]
                                  volume_litres = 80
                                """);

        CabinetSettings north = configuration.cabinets().get(0);
        assertTrue(north.isSimulated());
        assertEquals(80, north.simulated().orElseThrow().volumeLitres());
        assertEquals(ProbePlan.Sensor.HYGROMETER, north.plan().probes().get(1).sensor());
        assertEquals(
                new AgentConfiguration.SimulationSettings(7, 60, true), configuration.simulation());
    }

    @Test
    void whatAProbeIsFollowsFromItsAddressAsFarAsThatTells() {
        record Case(CabinetSettings.ProbeDriver driver, String address, Optional<String> sensor) {}
        for (Case it :
                List.of(
                        new Case(
                                CabinetSettings.ProbeDriver.ONE_WIRE,
                                "28-0000072431ab",
                                Optional.of("ds18b20")),
                        new Case(
                                CabinetSettings.ProbeDriver.ONE_WIRE,
                                "22-0000072431ab",
                                Optional.of("ds1822")),
                        new Case(
                                CabinetSettings.ProbeDriver.IIO,
                                "bme280@1-0076/temp",
                                Optional.of("bme280")),
                        new Case(
                                CabinetSettings.ProbeDriver.I2C,
                                "sht4x@1-0044/temp",
                                Optional.of("sht4x")),
                        new Case(
                                CabinetSettings.ProbeDriver.HWMON,
                                "sht3x/temp1",
                                Optional.of("sht3x")),
                        new Case(
                                CabinetSettings.ProbeDriver.SERIAL_BOARD,
                                "/dev/ttyACM0@2/temp",
                                Optional.empty()),
                        new Case(CabinetSettings.ProbeDriver.SIMULATED, "", Optional.empty()))) {
            assertEquals(
                    it.sensor(),
                    SensorNames.of(
                            new CabinetSettings.ProbeWiring(it.driver(), it.address()),
                            ProbePlan.Sensor.OTHER_THERMOMETER),
                    it.address());
        }
    }

    @Test
    void aBusWithManyProbesGetsMoreTimeBeforeASampleIsStale() {
        StringBuilder text = new StringBuilder(AGENT + CABINET);
        for (int i = 0; i < 18; i++) {
            text.append(
                    """
                      [[cabinet.probe]]
                      name = "tub %d"
                      position = "tub"
                      driver = "one-wire"
                      address = "28-0000072431%02d"
                    """
                            .formatted(i, i));
        }

        // 20 probes, 0.75 s each (DS18B20 datasheet, tCONV at 12 bits), three rounds.
        assertEquals(
                45,
                accepted(text.toString())
                        .cabinets()
                        .get(0)
                        .plan()
                        .probes()
                        .get(0)
                        .staleAfterSeconds());
    }

    /** Each bus master is a bus of its own: its probes wait for each other only. */
    @Test
    void onlyProbesOfTheSameBusMasterMakeARoundLonger(@TempDir Path root) throws IOException {
        StringBuilder text = new StringBuilder(AGENT + CABINET);
        text.append("[sensors]\none_wire_folder = \"").append(root).append("/devices\"\n");
        Path devices = Files.createDirectories(root.resolve("devices"));
        for (int i = 0; i < 18; i++) {
            String address = "28-0000072431%02d".formatted(i);
            Path device =
                    Files.createDirectories(
                            root.resolve("w1_bus_master" + (1 + i % 2)).resolve(address));
            Files.createSymbolicLink(devices.resolve(address), device);
            text.insert(
                    text.indexOf("[sensors]"),
                    """
                      [[cabinet.probe]]
                      name = "tub %d"
                      position = "tub"
                      driver = "one-wire"
                      address = "%s"
                    """
                            .formatted(i, address));
        }

        List<ProbePlan> probes = accepted(text.toString()).cabinets().get(0).plan().probes();
        // 9 probes on each of two masters, 0.75 s each, three rounds; two that are not there.
        assertEquals(20.25, probes.get(5).staleAfterSeconds());
        assertEquals(8, probes.get(0).staleAfterSeconds());
    }

    /** 28 °C + 0.5 × 90 W / 3 W/K = 43 °C; (33.5 − 1 − 28) × 3 / 90 = 0.15. */
    @Test
    void aBlindDutyThatCouldHeatToTheCutOffIsRefused() {
        String fallback =
                """
                  [cabinet.fallback]
                  duty = %s
                  heater_watts = 90
                  heat_loss_watts_per_kelvin = 3
                  warmest_room_celsius = 28
                """;
        String text = AGENT + CABINET;
        assertEquals(
                0.15,
                accepted(text + String.format(fallback, "0.15"))
                        .cabinets()
                        .get(0)
                        .plan()
                        .guard()
                        .fallback()
                        .orElseThrow()
                        .duty());
        String refused =
                ConfigurationReader.parse(FILE, text + String.format(fallback, "0.5"))
                        .fold(
                                accepted -> "accepted",
                                rejected -> rejected.errors().get(0).toString());
        assertTrue(
                refused.contains(
                        "found=0.5, which heats to 43.0 °C in a room of 28 °C, allowed=at most"
                                + " 0.150: no more than 32.5 °C, 1 K below the cut-off"),
                refused);
    }

    @Test
    void oneAirProbeAndNoCutOffRelayAreWarnings() {
        String text = AGENT + CABINET;
        text = text.substring(0, text.indexOf("  [cabinet.cut_off_relay]"));
        text = text.replace("position = \"bottom\"", "position = \"tub\"");

        List<SettingsFault> warnings = ConfigurationReader.parse(FILE, text).warnings();

        assertEquals(
                """
                warning: /etc/evenwarm/agent.toml, line 6: cabinet "north" / cut_off_relay
                    found none; a heater relay that welds shut could then not be stopped by the agent; put a second relay in series and give it [cabinet.cut_off_relay].
                warning: /etc/evenwarm/agent.toml, line 9: cabinet "north" / probe
                    found one thermometer in the air; nothing would notice if it drifts or falls out, and heat stops when it fails; fit at least a second one.""",
                texts(warnings));
        accepted(text);
    }

    private static final String GPIO_LINES =
            """
              [cabinet.fan]
              driver = "gpio"
              line = "GPIO24"
              active_low = true
              [cabinet.vent]
              driver = "gpio"
              line = "GPIO25"
              [cabinet.door]
              driver = "gpio"
              line = "GPIO17"
              closed = "high"
              [cabinet.fan_tachometer]
              driver = "gpio"
              line = "GPIO22"
              pulses_per_turn = 4
              [cabinet.reset_button]
              driver = "gpio"
              line = "GPIO26"
              pull = "none"
            """;

    @Test
    void linesOfTheHeaderAreOutputsAndInputs() {
        CabinetSettings north = accepted(AGENT + CABINET + GPIO_LINES).cabinets().get(0);

        assertEquals(
                Optional.of(new OutputWiring(OutputDriver.GPIO, "GPIO24", true, false)),
                north.fan());
        assertEquals(
                Optional.of(new OutputWiring(OutputDriver.GPIO, "GPIO25", false, false)),
                north.vent());
        assertEquals(
                new InputWirings(
                        Optional.of(new InputWiring("GPIO17", true, GpioPull.DOWN, 1)),
                        Optional.of(new InputWiring("GPIO22", false, GpioPull.UP, 4)),
                        Optional.empty(),
                        Optional.of(new InputWiring("GPIO26", false, GpioPull.NONE, 1))),
                north.inputs());
        assertEquals(4, north.outputs().size());
        assertTrue(north.plan().hasDoorSwitch() && north.plan().hasFanTachometer());
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "GPIO25 | GPIO24 | one that nothing else uses; it is taken by cabinet \"north\" / fan",
                "GPIO17 | GPIO25 | one that nothing else uses; it is taken by cabinet \"north\" / vent",
                "GPIO26 | GPIO22 | taken by cabinet \"north\" / fan_tachometer",
                "GPIO24 | GPIO28 | a number from 0 to 27",
                "GPIO24 | 24 | a number from 0 to 27",
                "GPIO17 | gpio17 | a number from 0 to 27",
                "closed = \"high\" | closed = \"shut\" | one of low, high",
                "pulses_per_turn = 4 | pulses_per_turn = 0 | from 1 to 16",
                "pulses_per_turn = 4 | closed = \"low\" | pulses_per_turn",
                "pull = \"none\" | pull = \"off\" | one of up, down, none",
                "active_low = true | active_low = 1 | true or false",
            })
    void aWrongLineOfTheHeaderIsNamedWithWhatIsAllowed(String right, String wrong, String allowed) {
        String bad =
                AGENT
                        + CABINET
                        + GPIO_LINES.replaceFirst(Pattern.quote(right.strip()), wrong.strip());

        assertTrue(texts(errors(bad)).contains(allowed.strip()), texts(errors(bad)));
    }

    @Test
    void anLedLinesLevelIsTheOverlaysAndASimulatedCabinetHasNoButtons() {
        assertTrue(
                onlyError(AGENT + CABINET.replace("\"cut-off-north\"", "\"c\"\nactive_low = true"))
                        .contains("the overlay in config.txt says it"));
        assertTrue(
                onlyError(AGENT + CABINET + "[cabinet.door]\ndriver = \"simulated\"\n")
                        .contains("gpio: the cabinet is real"));
    }

    @Test
    void onlyTheCutOffRelaysLineCanBePulsed() {
        String pulsed = CABINET.replace("\"cut-off-north\"", "\"c\"\npulsed = true");
        assertTrue(
                accepted(AGENT + pulsed)
                        .cabinets()
                        .get(0)
                        .cutOffRelay()
                        .map(CabinetSettings.OutputWiring::pulsed)
                        .orElse(false));
        assertTrue(
                onlyError(AGENT + CABINET.replace("\"heater-north\"", "\"h\"\npulsed = true"))
                        .contains("pulsed"));
    }

    @Test
    void theWatchdogDeviceIsNamedAndWhatItDoesIsWarnedOf() {
        String text = AGENT + CABINET + "[watchdog]\ndevice = \"/dev/watchdog\"\n";
        assertEquals(
                Optional.of(new AgentConfiguration.WatchdogPlan(Path.of("/dev/watchdog"), false)),
                accepted(text).watchdog());
        String warnings =
                texts(
                        ConfigurationReader.parse(FILE, text)
                                .fold(
                                        SettingsResult.Accepted::warnings,
                                        SettingsResult.Rejected::warnings));
        assertTrue(warnings.contains("restarts itself"), warnings);
        assertTrue(onlyError(AGENT + CABINET + "[watchdog]\n").contains("device"));
    }

    @Test
    void bothValuesOfAnI2cSensorAreProbes() {
        String text =
                AGENT
                        + CABINET
                        + """
                          [[cabinet.probe]]
                          name = "air"
                          position = "middle"
                          driver = "i2c"
                          address = "sht3x@1-0044/temp"
                          [[cabinet.probe]]
                          name = "damp"
                          position = "middle"
                          driver = "i2c"
                          address = "sht3x@1-0044/humidity"
                        """;

        List<ProbePlan> probes = accepted(text).cabinets().get(0).plan().probes();
        assertEquals(ProbePlan.Sensor.OTHER_THERMOMETER, probes.get(2).sensor());
        assertEquals(ProbePlan.Sensor.HYGROMETER, probes.get(3).sensor());
        assertTrue(
                onlyError(text.replace("0044/temp", "0047/temp")).contains("I²C bus and address"));
        assertTrue(onlyError(text.replace("humidity", "temp")).contains("nothing else uses"));
    }

    @Test
    void aRealCabinetCannotBeHurried() {
        String fault = onlyError(AGENT + "[simulation]\nspeed = 10\n" + CABINET);

        assertTrue(fault.contains("line 7: simulation / speed"), fault);
        assertTrue(fault.contains("found 10"), fault);
    }

    /** Whatever stands at a key: named with its line, and never an exception. */
    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "set_point_celsius = 31.5 | set_point_celsius = 9.9 | 10 to 43",
                "set_point_celsius = 31.5 | set_point_celsius = nan | 10 to 43",
                "set_point_celsius = 31.5 | set_point_celsius = true | 10 to 43",
                "set_point_celsius = 31.5 | set_point_celsius = 31.5~cut_off_celsius = 32.4 | 32.5",
                "set_point_celsius = 31.5 | set_point_celsius = 31.5~cut_off_celsius = 34.6 | ceiling of 34.5",
                "set_point_celsius = 31.5 | set_point_celsius = 31.5~cut_off_celsius = 34.1 | 34 °C or less: at least 0.5 K below the ceiling of 34.5",
                "set_point_celsius = 31.5 | set_point_celsius = 31.5~ceiling_celsius = 33 | ceiling of 33",
                "set_point_celsius = 31.5 | set_point_celsius = 31.5~too_warm_celsius = 33.5 | before it trips",
                "set_point_celsius = 31.5 | set_point_celsius = 31.5~too_warm_celsius = 35 | ceiling",
                "set_point_celsius = 31.5 | set_point_celsius = 31.5~too_cold_celsius = 31.5 | below the set point",
                "set_point_celsius = 31.5 | set_point_celsius = 31.5~ceiling_celsius = 46 | 0 to 45",
                "line = \"cut-off-north\" | line = \"heater-north\" | nothing else uses",
                "line = \"cut-off-north\" | line = \"a/b\" | the name of a folder",
                "address = \"28-0000072431ac\" | address = \"28-0000072431ab\" | taken by cabinet \"north\"",
                "address = \"28-0000072431ac\" | address = \"28-72431ac\" | 12 hex digits",
                "name = \"bottom\" | name = \"top\" | no other probe",
                "name = \"bottom\" | name = \"-\" | 1 to 64 letters",
                "listen = \"127.0.0.1:4770\" | listen = \"127.0.0.1:65536\" | 65535",
                "listen = \"127.0.0.1:4770\" | listen = 4770 | text in quotes",
                "listen = \"127.0.0.1:4770\" | listen = \"127.0.0.1:4770\"~announce = \"now\" | one of always, while_pairing, never",
                "driver = \"led\" | driver = \"relay\" | one of led, gpio, simulated",
                "position = \"bottom\" | position = \"\" | of your own",
                "position = \"bottom\" | positon = \"bottom\" | did you mean that",
            })
    void aWrongValueIsNamedWithWhatIsAllowed(String right, String wrong, String allowed) {
        String text = AGENT + CABINET;
        assertTrue(text.contains(right.strip()), right);
        String bad =
                text.replaceFirst(Pattern.quote(right.strip()), wrong.strip().replace("~", "\n"));

        List<SettingsFault> errors = errors(bad);

        assertTrue(texts(errors).contains(allowed.strip()), texts(errors));
        assertTrue(errors.stream().allMatch(error -> error.line() > 0), texts(errors));
    }

    @ParameterizedTest
    @ValueSource(strings = {"agent", "link", "cabinet", "sensors", "simulation", "journal"})
    void aSectionOfTheWrongShapeIsAFault(String key) {
        String text = AGENT + CABINET;
        String bad = key + " = 5\n" + text.replaceAll("(?m)^\\s*\\[+" + key + ".*$", "");

        assertFalse(errors(bad).isEmpty());
    }

    @Test
    void anEmptyFileAsksForAnAgentAndACabinet() {
        String faults = texts(errors(""));

        assertTrue(faults.contains("a table [agent] with name"), faults);
        assertTrue(faults.contains("1 to 64 tables [[cabinet]]"), faults);
    }

    private static final String SIMULATED =
            """
            [[cabinet]]
            name = "north"
            set_point_celsius = 31.5
              [[cabinet.probe]]
              name = "upper"
              position = "top"
              driver = "simulated"
              [[cabinet.probe]]
              name = "lower"
              position = "bottom"
              driver = "simulated"
              [cabinet.heater]
              driver = "simulated"
              [cabinet.cut_off_relay]
              driver = "simulated"
            """;

    @Test
    void aSimulatedCabinetHasTheFaultsOfAScenario() {
        AgentConfiguration read =
                accepted(
                        AGENT
                                + SIMULATED
                                + """
                                [[cabinet.fault]]
                                at = "2h"
                                for = "30min"
                                kind = "probe-frozen"
                                probe = "upper"
                                [[cabinet.fault]]
                                at = "4h"
                                kind = "mains-cut"
                                """);
        assertEquals(
                List.of(
                        new Scenario.TimedFault(
                                7200,
                                OptionalDouble.of(1800),
                                new PlantFault.ProbeFrozen(new ProbeName("upper"))),
                        new Scenario.TimedFault(
                                14_400, OptionalDouble.empty(), new PlantFault.MainsCut())),
                read.cabinets().get(0).faults());
    }

    @Test
    void whatHappensToTheAgentItselfIsForRehearsalsAndNoFaultIsForARealCabinet() {
        assertTrue(
                onlyError(
                                AGENT
                                        + SIMULATED
                                        + "[[cabinet.fault]]\nat = \"2h\"\nkind = \"disk-full\"\n")
                        .contains("for rehearsals only"));
        assertTrue(
                onlyError(
                                AGENT
                                        + SIMULATED
                                        + "[[cabinet.fault]]\nat = \"2h\"\nkind = \"probe-frozen\"\n"
                                        + "probe = \"middle\"\n")
                        .contains("upper, lower"));
        assertTrue(
                onlyError(
                                AGENT
                                        + CABINET
                                        + "[[cabinet.fault]]\nat = \"2h\"\nkind = \"door-open\"\n")
                        .contains("nothing at a real cabinet"));
    }
}
