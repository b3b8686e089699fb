package io.evenwarm.agent.app;

import io.evenwarm.agent.app.CabinetSettings.ProbeDriver;
import io.evenwarm.agent.app.CabinetSettings.ProbeWiring;
import io.evenwarm.agent.driver.pi4j.ShtAddress;
import io.evenwarm.agent.driver.serial.BoardAddress;
import io.evenwarm.agent.driver.sysfs.HwmonChannel;
import io.evenwarm.agent.driver.sysfs.IioChannel;
import io.evenwarm.agent.driver.sysfs.OneWireThermometer;
import io.evenwarm.agent.plan.ProbePlan;
import io.evenwarm.agent.plan.ProbePlan.Sensor;
import io.evenwarm.agent.port.Sample;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.settings.NumberRange;
import io.evenwarm.settings.TomlSection;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/** Reads one {@code [[cabinet.probe]]}. */
final class ProbeReader {

    /** A 12-bit conversion of a DS18B20 (datasheet, tCONV at 12 bits, max.). */
    static final double CONVERSION_SECONDS = 0.75;

    private static final double SHORTEST_ROUND_SECONDS = 1;
    private static final double USUAL_STALE_SECONDS = 8;
    private static final List<String> DRIVERS =
            Arrays.stream(ProbeDriver.values()).map(ProbeDriver::word).toList();
    private static final String DS18B20 = "ds18b20";
    private static final List<String> SENSORS = List.of(DS18B20, "thermometer", "hygrometer");

    private final TomlSection section;
    private final Assignments taken;
    private final OneWireBuses buses;
    private final int simulatedOneWireProbes;

    /** A probe's two sides. */
    record ReadProbe(ProbePlan plan, ProbeWiring wiring) {}

    /**
     * @param buses which probes of the whole file share a 1-Wire bus
     * @param simulatedOneWireProbes how many probes of this cabinet share its simulated one
     */
    ProbeReader(
            TomlSection section,
            Assignments taken,
            OneWireBuses buses,
            int simulatedOneWireProbes) {
        this.section = section;
        this.taken = taken;
        this.buses = buses;
        this.simulatedOneWireProbes = simulatedOneWireProbes;
    }

    /** Whether this is a simulated probe on a simulated 1-Wire bus. */
    static boolean isSimulatedOneWire(TomlSection probe) {
        return probe.text("driver").equals(Optional.of(ProbeDriver.SIMULATED.word()))
                && probe.text("sensor").map(DS18B20::equals).orElse(true);
    }

    Optional<ReadProbe> read() {
        Optional<ProbeName> name =
                section.requiredParsed("name", ConfigurationReader.NAME_FORM, ProbeName::new);
        Optional<ProbePlace> place =
                section.requiredParsed(
                        "position",
                        "top, middle, bottom, tub, ambient, or words of your own for a place in the"
                                + " air",
                        ProbePlace::of);
        Optional<ProbeDriver> driver =
                section.requiredWord("driver", DRIVERS).map(ProbeReader::driver);
        boolean guard = section.flag("guard", false);
        double offsetKelvin = section.number("offset_kelvin", NumberRange.of(-5, 5, "K"), 0);
        section.allow("address", "sensor", "stale_after_seconds");
        if (driver.isEmpty()) {
            return Optional.empty();
        }
        Optional<Sensor> sensor =
                driver.get() == ProbeDriver.SIMULATED
                        ? simulatedSensor()
                        : realSensor(driver.get());
        if (sensor.isEmpty()) {
            return Optional.empty();
        }
        Optional<Double> staleAfter = staleAfterSeconds(driver.get(), sensor.get());
        boolean thermometer = sensor.get().isThermometer();
        if (!thermometer && offsetKelvin != 0) {
            section.fault("offset_kelvin", "nothing: this probe measures humidity");
        }
        if (guard && !(thermometer && place.map(at -> at.kind().isAir()).orElse(true))) {
            section.fault("guard", "false: the guard's own probe must be a thermometer in the air");
            return Optional.empty();
        }
        if (name.isEmpty() || place.isEmpty() || staleAfter.isEmpty()) {
            return Optional.empty();
        }
        return Optional.of(
                new ReadProbe(
                        new ProbePlan(
                                name.get(),
                                place.get(),
                                guard,
                                offsetKelvin,
                                staleAfter.get(),
                                sensor.get()),
                        new ProbeWiring(driver.get(), section.text("address").orElse(""))));
    }

    private static ProbeDriver driver(String word) {
        return Arrays.stream(ProbeDriver.values())
                .filter(driver -> driver.word().equals(word))
                .findFirst()
                .orElseThrow();
    }

    private Optional<Sensor> simulatedSensor() {
        if (section.has("address")) {
            section.fault("address", "nothing: a simulated probe has no address");
        }
        if (!section.has("sensor")) {
            return Optional.of(Sensor.DS18B20);
        }
        return section.word("sensor", SENSORS)
                .map(
                        word ->
                                switch (word) {
                                    case DS18B20 -> Sensor.DS18B20;
                                    case "hygrometer" -> Sensor.HYGROMETER;
                                    default -> Sensor.OTHER_THERMOMETER;
                                });
    }

    private Optional<Sensor> realSensor(ProbeDriver driver) {
        if (section.has("sensor")) {
            section.fault("sensor", "nothing: what a real probe measures follows from its address");
        }
        String form =
                switch (driver) {
                    case ONE_WIRE -> OneWireThermometer.ADDRESS_FORM;
                    case HWMON -> HwmonChannel.ADDRESS_FORM;
                    case I2C -> ShtAddress.FORM;
                    case SERIAL_BOARD -> BoardAddress.FORM;
                    case IIO, SIMULATED -> IioChannel.ADDRESS_FORM;
                };
        Optional<String> address = section.requiredText("address", form);
        if (address.isEmpty()) {
            return Optional.empty();
        }
        Optional<Sensor> sensor = sensorAt(driver, address.get());
        if (sensor.isEmpty()) {
            section.fault("address", form);
        } else {
            taken.take(driver.word(), address.get(), section, "address");
        }
        return sensor;
    }

    /** What a real probe at this address measures; empty when it is no such address. */
    static Optional<Sensor> sensorAt(ProbeDriver driver, String address) {
        if (driver == ProbeDriver.ONE_WIRE) {
            // All families of the address form say 85 °C before their first conversion.
            return OneWireThermometer.isAddress(address)
                    ? Optional.of(Sensor.DS18B20)
                    : Optional.empty();
        }
        Optional<Sample.Unit> unit =
                switch (driver) {
                    case HWMON -> HwmonChannel.unitOf(address);
                    case IIO -> IioChannel.unitOf(address);
                    case I2C -> ShtAddress.parse(address).map(ShtAddress::unit);
                    case SERIAL_BOARD -> BoardAddress.parse(address).map(BoardAddress::unit);
                    case ONE_WIRE, SIMULATED -> Optional.empty();
                };
        return unit.map(
                measured ->
                        measured == Sample.Unit.CELSIUS
                                ? Sensor.OTHER_THERMOMETER
                                : Sensor.HYGROMETER);
    }

    /** A sample must not be called stale before its bus could bring the next one. */
    private Optional<Double> staleAfterSeconds(ProbeDriver driver, Sensor sensor) {
        int sharing =
                switch (driver) {
                    case ONE_WIRE -> buses.sharing(section.text("address").orElse(""));
                    case SIMULATED -> sensor == Sensor.DS18B20 ? simulatedOneWireProbes : 0;
                    case HWMON, IIO, I2C, SERIAL_BOARD -> 0;
                };
        double roundSeconds = Math.max(SHORTEST_ROUND_SECONDS, sharing * CONVERSION_SECONDS);
        double leastSeconds = 2 * roundSeconds;
        if (!section.has("stale_after_seconds")) {
            return Optional.of(Math.min(600, Math.max(USUAL_STALE_SECONDS, 3 * roundSeconds)));
        }
        OptionalDouble given =
                section.number("stale_after_seconds", NumberRange.above(0, 600, "s"));
        if (given.isEmpty()) {
            return Optional.empty();
        }
        if (given.getAsDouble() < leastSeconds) {
            section.fault(
                    "stale_after_seconds",
                    NumberRange.plain(leastSeconds)
                            + " to 600 s: twice what the bus needs for a round ("
                            + (sharing > 0
                                    ? sharing
                                            + (sharing == 1 ? " probe" : " probes")
                                            + " on its 1-Wire bus, 0.75 s each)"
                                    : "1 s)"));
            return Optional.empty();
        }
        return Optional.of(given.getAsDouble());
    }
}
