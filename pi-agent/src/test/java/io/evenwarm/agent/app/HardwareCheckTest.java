package io.evenwarm.agent.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.HandClock;
import io.evenwarm.agent.driver.sysfs.OneWireText;
import io.evenwarm.agent.loop.CabinetLoop;
import io.evenwarm.agent.port.Output;
import io.evenwarm.agent.port.OutputException;
import io.evenwarm.agent.port.Probe;
import io.evenwarm.agent.port.Sample;
import io.evenwarm.agent.testing.MemoryStores;
import io.evenwarm.clock.SystemClock;
import io.evenwarm.message.BootId;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.Moment;
import io.evenwarm.settings.SettingsResult;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** On a folder that looks like a Pi's root: 1-Wire, LED-class lines, a GPIO chip. */
final class HardwareCheckTest {

    private static final Optional<String> NOBODY = Optional.of("nobody drives them off");

    @TempDir Path root;
    private Path leds = Path.of("");

    @BeforeEach
    void makeRoot() throws IOException {
        leds = Files.createDirectories(root.resolve("sys/class/leds"));
        for (String line : List.of("heater-north", "spare")) {
            Files.writeString(
                    Files.createDirectories(leds.resolve(line)).resolve("brightness"), "1\n");
        }
        Files.createDirectories(root.resolve("dev"));
        oneWire("28-0000072431ab", 31.5);
        oneWire("28-00000724ffff", 22);
    }

    private void oneWire(String address, double celsius) throws IOException {
        Path device = Files.createDirectories(root.resolve("sys/bus/w1/devices").resolve(address));
        Files.writeString(device.resolve("w1_slave"), OneWireText.good(celsius));
    }

    private AgentConfiguration configuration() {
        String text =
                """
                [agent]
                name = "egg room"
                [sensors]
                one_wire_folder = "%1$s/sys/bus/w1/devices"
                hwmon_folder = "%1$s/sys/class/hwmon"
                iio_folder = "%1$s/sys/bus/iio/devices"
                led_folder = "%1$s/sys/class/leds"
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
                [[cabinet]]
                name = "south"
                set_point_celsius = 30
                  [[cabinet.probe]]
                  name = "air"
                  position = "top"
                  driver = "hwmon"
                  address = "sht3x/temp1"
                  [cabinet.heater]
                  driver = "gpio"
                  line = "GPIO23"
                  [cabinet.door]
                  driver = "gpio"
                  line = "GPIO17"
                [[cabinet]]
                name = "paper"
                set_point_celsius = 30
                  [[cabinet.probe]]
                  name = "air"
                  position = "top"
                  driver = "simulated"
                  [cabinet.heater]
                  driver = "simulated"
                """
                        .formatted(root);
        return ConfigurationReader.parse(root.resolve("agent.toml"), text)
                .fold(
                        SettingsResult.Accepted::value,
                        rejected -> {
                            throw new AssertionError(rejected.errors());
                        });
    }

    private HardwareCheck check(Optional<String> noServiceManager) {
        HardwareCheck check =
                new HardwareCheck(
                        configuration(),
                        new HeatPermission(root, noServiceManager),
                        root.resolve("dev"));
        check.run(SystemClock.monotonic());
        return check;
    }

    private void release() throws IOException {
        Files.createDirectories(root.resolve("proc"));
        Files.writeString(root.resolve("proc/cmdline"), "pinctrl_bcm2835.persist_gpio_outputs=n\n");
    }

    @Test
    void whatIsThereWhatIsMissingAndWhyStandsInTheAnswer() {
        HardwareCheck check = check(NOBODY);
        assertFalse(check.isWell());
        String text = String.join("\n", HardwareText.lines(check)).replace(root.toString(), "");
        assertEquals(
                """

                probes
                  north / top     one-wire 28-0000072431ab  31.50 °C
                  north / bottom  one-wire 28-0000072431ac  MISSING: not there: /sys/bus/w1/devices/28-0000072431ac/temperature is not there
                  south / air     hwmon sht3x/temp1         MISSING: not there: /sys/class/hwmon can't be read: /sys/class/hwmon

                found, but in no cabinet
                  one-wire 28-00000724ffff  22.00 °C

                lines
                  north / heater         led heater-north   there; not driven
                  north / cut_off_relay  led cut-off-north  MISSING: not there: no such line below /sys/class/leds; there are heater-north, spare. Is its overlay loaded?
                  south / heater         gpio GPIO23        MISSING: no GPIO chip: /dev/gpiochip0 is not there
                  south / door           gpio GPIO17        MISSING: no GPIO chip: /dev/gpiochip0 is not there

                heat
                  north  REFUSED: nobody drives them off
                  south  REFUSED: nothing says that this kernel lets go of GPIO lines when the program that held them dies; put dtparam=strict_gpiod into config.txt and boot again; and nobody drives them off
                  paper  may be heated
                """,
                text);
        assertEquals(false, HardwareText.json(check).get("isWell"));
    }

    @Test
    void aCheckDrivesNoLine() throws IOException {
        check(NOBODY);
        assertEquals("1\n", Files.readString(leds.resolve("heater-north/brightness")));
    }

    @Test
    void whenAllIsThereAndLetGoOfHeatIsAllowed() throws IOException {
        oneWire("28-0000072431ac", 30);
        Path hwmon = Files.createDirectories(root.resolve("sys/class/hwmon/hwmon0"));
        Files.writeString(hwmon.resolve("name"), "sht3x\n");
        Files.writeString(hwmon.resolve("temp1_input"), "29500\n");
        Files.writeString(hwmon.resolve("humidity1_input"), "71200\n");
        Files.writeString(
                Files.createDirectories(leds.resolve("cut-off-north")).resolve("brightness"),
                "0\n");
        Files.writeString(root.resolve("dev/gpiochip0"), "");
        release();

        HardwareCheck check = check(Optional.empty());
        assertTrue(check.isWell(), () -> String.join("\n", HardwareText.lines(check)));
        assertEquals(
                List.of("one-wire 28-00000724ffff", "hwmon sht3x/humidity1"),
                check.unused().stream().map(HardwareCheck.Item::place).toList());
    }

    /** The three kinds of line, and which of the two promises each needs. */
    @Test
    void eachKindOfLineNeedsItsOwnPromises() throws IOException {
        List<CabinetSettings> cabinets = configuration().cabinets();
        HeatPermission both = new HeatPermission(root, NOBODY);
        assertEquals(1, both.refusals(cabinets.get(0), leds).size(), "led: the service manager");
        assertEquals(2, both.refusals(cabinets.get(1), leds).size(), "gpio: and the kernel");
        assertEquals(0, both.refusals(cabinets.get(2), leds).size(), "simulated: nothing");
        assertEquals(
                0,
                both.refusals(cabinets.get(0), Files.createDirectories(root.resolve("paper")))
                        .size(),
                "files outside /sys switch no relay");
        release();
        assertEquals(1, both.refusals(cabinets.get(1), leds).size());
        assertEquals(
                0,
                new HeatPermission(root, Optional.empty()).refusals(cabinets.get(1), leds).size());
    }

    @Test
    void aCabinetThatMayNotBeHeatedHasAHeaterThatGoesOffOnly() throws IOException {
        try (Hardware hardware =
                Hardware.of(
                        configuration(),
                        SystemClock.monotonic(),
                        new HeatPermission(root, NOBODY))) {
            Output heater = hardware.cabinets().get(0).outputs().heater();
            heater.drive(false);
            for (boolean energised : new boolean[] {true, false}) {
                Files.writeString(leds.resolve("heater-north/brightness"), "1\n");
                OutputException refused =
                        assertThrows(OutputException.class, () -> heater.drive(energised));
                assertEquals(
                        "it is off, and heat is refused: nobody drives them off",
                        refused.getMessage());
                assertEquals("0\n", Files.readString(leds.resolve("heater-north/brightness")));
            }
        }
        try (Hardware hardware =
                Hardware.of(
                        configuration(),
                        SystemClock.monotonic(),
                        new HeatPermission(root, Optional.empty()))) {
            hardware.cabinets().get(0).outputs().heater().drive(true);
            assertEquals("1\n", Files.readString(leds.resolve("heater-north/brightness")));
        }
    }

    /**
     * The whole loop on it: off for good, told as long as it lasts, and nothing counts as heating.
     */
    @Test
    void aCabinetThatMayNotBeHeatedSaysSoInItsFindingAndNeverHeats() throws IOException {
        Files.writeString(
                Files.createDirectories(leds.resolve("cut-off-north")).resolve("brightness"),
                "0\n");
        CabinetSettings north = configuration().cabinets().get(0);
        HandClock clock = new HandClock();
        BootId boot = new BootId(new UUID(7, 7));
        MemoryStores stores = new MemoryStores();
        try (Hardware hardware =
                        Hardware.of(configuration(), clock, new HeatPermission(root, NOBODY));
                CabinetLoop loop =
                        new CabinetLoop(
                                north.plan(),
                                List.of(cold(clock), cold(clock)),
                                hardware.cabinets().get(0).outputs(),
                                stores.latches(),
                                stores.setPoints(),
                                boot,
                                List.of())) {
            for (int second = 0; second < 120; second++) {
                clock.advanceSeconds(1);
                CabinetSnapshot snapshot =
                        loop.tick(new Moment(boot, clock.nanos(), clock.now(), true));
                assertFalse(snapshot.heaterOn());
                assertEquals("0\n", Files.readString(leds.resolve("heater-north/brightness")));
                assertTrue(
                        second == 0
                                || snapshot.findings().stream()
                                        .anyMatch(
                                                finding ->
                                                        finding.code()
                                                                        .equals(
                                                                                FindingCode
                                                                                        .OUTPUT_FAILING)
                                                                && finding.evidence()
                                                                        .contains(
                                                                                "heat is refused")),
                        snapshot.findings()::toString);
            }
        }
    }

    private static Probe cold(HandClock clock) {
        return () -> new Sample.Measured(22, Sample.Unit.CELSIUS, clock.nanos());
    }

    private Path systemctl(String says) throws IOException {
        Path program = root.resolve("systemctl");
        Files.writeString(program, "#!/bin/sh\n" + says + "\n");
        Files.setPosixFilePermissions(program, PosixFilePermissions.fromString("rwx------"));
        return program;
    }

    @Test
    void thePromiseIsThisProcessesOrTheInstalledUnits() throws IOException {
        ServiceManager ours =
                new ServiceManager(Map.of("EVENWARM_OUTPUTS_OFF_AFTERWARDS", "1"), "/none");
        assertEquals(Optional.empty(), ours.whyNotBehindUs());
        assertEquals(Optional.empty(), ours.whyNotBehindTheService());

        String stopPost =
                "echo 'ExecStopPost={ path=/opt/evenwarm/bin/evenwarm-agent ;"
                        + " argv[]=/opt/evenwarm/bin/evenwarm-agent outputs-off --config x ; }'";
        String promise = "echo Environment=EVENWARM_OUTPUTS_OFF_AFTERWARDS=1";
        ServiceManager unit =
                new ServiceManager(Map.of(), systemctl(stopPost + "\n" + promise).toString());
        assertTrue(unit.whyNotBehindUs().orElseThrow().contains("run it as the service"));
        assertEquals(Optional.empty(), unit.whyNotBehindTheService());

        ServiceManager silent = new ServiceManager(Map.of(), systemctl(stopPost).toString());
        assertTrue(silent.whyNotBehindTheService().orElseThrow().contains("does not set"));
        ServiceManager other = new ServiceManager(Map.of(), systemctl(promise).toString());
        assertTrue(other.whyNotBehindTheService().orElseThrow().startsWith("no unit"));
        ServiceManager none = new ServiceManager(Map.of(), "/there/is/none");
        assertTrue(none.whyNotBehindTheService().orElseThrow().startsWith("no unit"));
    }
}
